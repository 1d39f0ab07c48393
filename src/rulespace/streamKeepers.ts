import { InputError, type TwoByTwo } from "../results/index.js";
import { admitsRule, chooseOnEnvelope, chooseOnGrid, type GridChoice } from "./chooseOnGrid.js";
import { frontOfTables } from "./frontOfTables.js";
import { frontOnEnvelope, frontOnGrid } from "./frontOnGrid.js";
import { tableAt } from "./ruleAt.js";
import { emptyEnvelope, extendEnvelope, hasEnvelope, type RuleEnvelope } from "./ruleEnvelope.js";
import { type FrontAgainst, scoreOfGoal } from "./ruleGoal.js";
import type { GridCounts } from "./ruleGrid.js";

/** A rule found on the way, with its table. */
export interface StreamedRule {
  readonly rule: number;
  readonly table: TwoByTwo;
}

/** Keeps what is needed of each slab. */
interface StreamKeeper {
  /** Takes a slab; `allowed` of its axes, null where the slab's own limit is not allowed. */
  take(counts: GridCounts, first: number, allowed: readonly number[] | null): void;
  finish(
    against: FrontAgainst,
    choice: GridChoice,
  ): { front: StreamedRule[]; best: StreamedRule | null };
}

/** Whole counts: two envelopes hold all there is to know. */
export function wholeKeeper(): StreamKeeper {
  let all: RuleEnvelope | null = null;
  let admitted: RuleEnvelope | null = null;
  const found = (envelope: RuleEnvelope, misses: number): StreamedRule => {
    const { totalWith, totalWithout, mostSpared, rule } = envelope;
    const trueNegative = mostSpared[misses];
    return {
      rule: rule[misses],
      table: {
        truePositive: totalWith - misses,
        falsePositive: totalWithout - trueNegative,
        falseNegative: misses,
        trueNegative,
      },
    };
  };
  return {
    take(counts, first, allowed) {
      const { sizes, withCondition, withoutCondition } = counts;
      const fresh = () => emptyEnvelope(withCondition.total, withoutCondition.total);
      all ??= fresh();
      admitted ??= fresh();
      const passed = [withCondition.passed, withoutCondition.passed] as [Int32Array, Int32Array];
      if (!hasEnvelope(counts)) throw new InputError("streamRules requires whole counts");
      extendEnvelope(all, ...passed, { sizes, allowed: sizes }, first);
      if (allowed === null) return;
      const axes = allowed.length > 0 ? allowed : [1];
      extendEnvelope(admitted, ...passed, { sizes, allowed: axes }, first);
    },
    finish(against, choice) {
      const [front, box] = [all!, admitted!];
      const best = chooseOnEnvelope(box, choice);
      return {
        front: frontOnEnvelope(front, against).map((misses) => found(front, misses)),
        best: best < 0 ? null : found(box, best),
      };
    },
  };
}

/** Sums of weights, or rules that differ in their denominators: the front of each slab is kept. */
export function sumKeeper(against: FrontAgainst, choice: GridChoice): StreamKeeper {
  const kept: StreamedRule[] = [];
  const bests: StreamedRule[] = [];
  return {
    take(counts, first, allowed) {
      for (const at of frontOnGrid(counts, against)) {
        kept.push({ rule: first + at, table: tableAt(counts, at) });
      }
      if (allowed === null) return;
      const axes = allowed.length > 0 ? allowed : [1];
      const own = { ...choice, allowed: axes };
      const best = chooseOnGrid(counts, own);
      if (best >= 0 && admitsRule(counts, own, best)) {
        bests.push({ rule: first + best, table: tableAt(counts, best) });
      }
    },
    finish() {
      const score = scoreOfGoal(choice.goal);
      const rates = ({ table: t }: StreamedRule) => ({
        missed: t.falseNegative / (t.truePositive + t.falseNegative),
        spared: t.trueNegative / (t.trueNegative + t.falsePositive),
      });
      const order = bests
        .map((found) => ({ found, ...rates(found) }))
        .map((one) => ({ ...one, score: score(one.missed, one.spared) }))
        .sort((a, b) => b.score - a.score || a.missed - b.missed || b.spared - a.spared);
      return {
        front: frontOfTables(
          kept.map(({ table }) => table),
          against,
        ).map((at) => kept[at]),
        best: order[0]?.found ?? null,
      };
    },
  };
}
