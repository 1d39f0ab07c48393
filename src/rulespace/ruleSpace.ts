import { type ForAudience, formerNames, jointAudience } from "../results/index.js";
import type { UndecidablePolicy } from "../rows/index.js";
import { accumulate } from "./accumulate.js";
import { countGrid } from "./countGrid.js";
import { type BinnedRows, binRows } from "./ruleBins.js";
import { requireRoom } from "./ruleSpaceSize.js";
import type { Limits, Measures } from "./spaceInput.js";

/** Passes of one class at every point of the grid, and the class's size. */
export interface RuleCounts {
  /** Number, or sum of weights, of the whole class. */
  readonly total: number;
  /**
   * Not referred at each point, first criterion slowest. With the policy "exclude" those who
   * crossed no limit but lack a value on an active criterion are not in it.
   */
  readonly passed: ArrayLike<number>;
  /** Undecidable at each point; null unless the policy is "exclude" and values are missing. */
  readonly undecidable: ArrayLike<number> | null;
}

/** Counts of every joint any-of rule on a grid of limits. */
export interface RuleSpace extends ForAudience {
  readonly kind: "rule-space";
  readonly n: number;
  readonly criteria: readonly string[];
  /** Limits by criterion, ascending; null is "switched off". */
  readonly limits: { readonly [criterion: string]: readonly (number | null)[] };
  readonly ruleCount: number;
  readonly weighted: boolean;
  readonly undecidable: UndecidablePolicy | null;
  readonly withCondition: RuleCounts;
  readonly withoutCondition: RuleCounts;
}

/**
 * Counts of every joint any-of referral rule on a grid, at once.
 *
 * A child is referred by a rule when any of its values is >= that criterion's limit; a strict limit
 * is the next step of the grid, and a limit of `Infinity` switches the criterion off. Each child
 * falls into one cell of a histogram over its values binned at the limits; cumulative sums along
 * each axis then give those not referred by every rule, in time proportional to children + cells.
 *
 * @param data measures and limits are objects with the same keys; condition is true or 1 for
 *   children with the condition; weights, if given, are inverse probabilities of examination;
 *   atLeast, if given, is looked at where a value is missing: what it is known to be at least (one
 *   eye of two), so that it crosses the limits up to that, whatever the policy
 * @param options what to do with a missing value (NaN): "refer" counts it as crossing every finite
 *   limit, "pass" as crossing none; "exclude" leaves a child out of the rules that it cannot decide
 *   (no limit crossed and a value missing on an active criterion)
 * @throws when keys or lengths differ, limits do not ascend, a value is missing and no policy is
 *   given, or the grid is too large
 *
 * @example
 * ruleAt(ruleSpace({ measures: { hyperopia: [1, 3], astigmatism: [2, 0] }, condition: [true, false], limits: { hyperopia: [2, 4], astigmatism: [1, Infinity] } }), { hyperopia: 4, astigmatism: 1 }) // => { truePositive: 1, falsePositive: 0, falseNegative: 0, trueNegative: 1 }
 */
export function ruleSpace(
  data: {
    readonly measures: Measures;
    readonly atLeast?: Measures;
    readonly condition: ArrayLike<boolean | number>;
    readonly limits: Limits;
    readonly weights?: ArrayLike<number>;
  } & ForAudience,
  options: { readonly undecidable?: UndecidablePolicy } = {},
): RuleSpace {
  options = formerNames("ruleSpace", options, "undecidable");
  requireRoom("ruleSpace", data.limits, {
    weighted: data.weights !== undefined,
    undecidable: options.undecidable === "exclude",
  });
  const binned = binRows("ruleSpace", data, options.undecidable);
  return {
    kind: "rule-space",
    ...jointAudience(data),
    n: binned.n,
    criteria: binned.criteria,
    limits: savedLimits(binned),
    ruleCount: binned.rules,
    weighted: binned.weighted,
    undecidable: options.undecidable ?? null,
    ...bothCounts(binned, options.undecidable),
  };
}

/** Both classes at every rule. */
function bothCounts(
  binned: BinnedRows,
  policy?: UndecidablePolicy,
): Pick<RuleSpace, "withCondition" | "withoutCondition"> {
  const { condition, weights, n, totalWith, totalWithout } = binned;
  const fill = (cells: Int32Array): [Counts, Counts] => {
    const weigh = (add: (cell: number, ill: number, well: number) => void) => {
      for (let row = 0; row < n; row++) {
        if (cells[row] < 0) continue;
        const weight = weights === null ? 1 : weights[row];
        add(cells[row], condition[row] * weight, (1 - condition[row]) * weight);
      }
    };
    if (weights === null) {
      const counts = [new Int32Array(binned.rules), new Int32Array(binned.rules)] as const;
      countGrid(counts[0], counts[1], binned.sizes, binned, weigh);
      return [...counts];
    }
    const sums = [new Float64Array(binned.rules), new Float64Array(binned.rules)] as const;
    weigh((cell, ill, well) => {
      sums[0][cell] += ill;
      sums[1][cell] += well;
    });
    for (const list of sums) accumulate(list, binned.sizes);
    return [...sums];
  };
  const [ill, well] = fill(policy === "pass" ? binned.cellLenient : binned.cellStrict);
  const open = policy === "exclude" && binned.anyMissing ? fill(binned.cellLenient) : [null, null];
  return {
    withCondition: { total: totalWith, passed: ill, undecidable: less(open[0], ill) },
    withoutCondition: { total: totalWithout, passed: well, undecidable: less(open[1], well) },
  };
}

type Counts = Int32Array | Float64Array;

function less(counts: Counts | null, taken: Counts): Counts | null {
  if (counts !== null) for (let at = 0; at < counts.length; at++) counts[at] -= taken[at];
  return counts;
}

function savedLimits(binned: BinnedRows): { [criterion: string]: (number | null)[] } {
  return Object.fromEntries(
    binned.criteria.map((criterion, axis) => [
      criterion,
      binned.limits[axis].map((limit) => (limit === Number.POSITIVE_INFINITY ? null : limit)),
    ]),
  );
}
