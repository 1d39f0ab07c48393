import { cellCounter } from "../inference/index.js";
import { pause } from "../platform/index.js";
import { formerNames, InputError, type RunOptions, undefinedBecause } from "../results/index.js";
import type { UndecidablePolicy } from "../rows/index.js";
import { type BestRule, choiceOf, type NoRule, type RuleConstraints } from "./bestRule.js";
import { type RuleFront, requireAgainst, rulePoint } from "./paretoFront.js";
import { limitsAt } from "./ruleAt.js";
import type { FrontAgainst } from "./ruleGoal.js";
import { requireRoom, spaceBytes } from "./ruleSpaceSize.js";
import { searchCounter } from "./searchCounter.js";
import { prepareSearch, type RuleRows, type SearchGrid } from "./searchRows.js";
import { type StreamedRule, sumKeeper, wholeKeeper } from "./streamKeepers.js";

/** Front and best rule of a grid too large to hold. */
export interface RuleStream {
  readonly kind: "rule-stream";
  readonly n: number;
  readonly ruleCount: number;
  readonly front: RuleFront;
  readonly best: BestRule | NoRule;
  /** Bytes of counts held at once, of one slab. */
  readonly bytes: number;
}

/** Above this many rules a place on the grid is no 32-bit number. */
const mostRules = 2_000_000_000;

/**
 * Front and best rule of a grid of up to 2,000,000,000 joint rules, slab by slab along the first
 * criterion, so that only one slab of counts is held. The same rules as `paretoFront` and `bestRule`
 * find; the space itself is not kept.
 *
 * Rates are proportions, 0 to 1.
 *
 * @param data as for `searchRules`; with `examination` the examined stand for the unexamined
 * @throws when rows are faulty, or the grid or one slab of it is too large
 *
 * @example
 * (await streamRules({ measures: { sphere: [1, 2, 3, 4] }, condition: [0, 1, 0, 1], limits: { sphere: [2, 4] } }, { constraints: { specificityAtLeast: 0.9 } })).best.limits // => { sphere: 4 }
 */
export async function streamRules(
  data: RuleRows,
  options: RunOptions & {
    readonly constraints?: RuleConstraints;
    readonly undecidable?: UndecidablePolicy;
    readonly against?: FrontAgainst;
  } = {},
): Promise<RuleStream> {
  const caller = "streamRules";
  data = formerNames(caller, data, "examination");
  options = formerNames(caller, options, "undecidable");
  const constraints = formerNames(caller, options.constraints ?? {}, "constraints");
  const { against = "specificity", signal, onProgress } = options;
  requireAgainst(caller, against);
  const [first, ...others] = Object.keys(data.limits);
  requireRoom(caller, Object.fromEntries(others.map((name) => [name, data.limits[name]])));
  const rows = prepareSearch(caller, data, options.undecidable, mostRules);
  const { grid, units, criteria, limits, n } = rows;
  const kinds = cellCounter(units)(units.counts)!;
  const choice = choiceOf(caller, criteria, limits, constraints);
  const slabs = grid.sizes[0];
  const slab = slabGrid(grid);
  const count = searchCounter(slab.grid);
  const keeper = grid.whole && grid.openCells === null ? wholeKeeper() : sumKeeper(against, choice);
  for (let at = 0; at < slabs; at++) {
    signal?.throwIfAborted();
    slab.open(at);
    const counts = count(kinds);
    if (!(counts.withCondition.total > 0 && counts.withoutCondition.total > 0)) {
      throw new InputError(
        `${caller} requires children with and without the condition, got ${counts.withCondition.total} and ${counts.withoutCondition.total}`,
      );
    }
    const allowed = at < choice.allowed[0] ? choice.allowed.slice(1) : null;
    keeper.take(counts, at * slab.grid.rules, allowed);
    onProgress?.({ stage: `rules by ${first}`, done: (at + 1) / slabs });
    await pause();
  }
  const { front, best } = keeper.finish(against, choice);
  const point = ({ rule, table }: StreamedRule, beside?: FrontAgainst) =>
    rulePoint(limitsAt(criteria, limits, rule), table, beside);
  const { rules } = grid;
  return {
    kind: "rule-stream",
    n,
    ruleCount: rules,
    front: {
      kind: "rule-front",
      n,
      ruleCount: rules,
      criteria,
      against,
      points: front.map((found) => point(found, against)),
    },
    best:
      best === null
        ? undefinedBecause("no rule of the grid meets the constraints")
        : { kind: "best-rule", n, ruleCount: rules, constraints, ...point(best) },
    bytes: spaceBytes(slab.grid.rules, !grid.whole, grid.openCells !== null),
  };
}

/**
 * A grid of all axes but the first, whose kinds of row are those that pass the first limit: slabs
 * are opened in order, and rows not let in yet count as referred.
 */
function slabGrid({ sizes, rules, whole, cells, openCells }: SearchGrid): {
  grid: SearchGrid;
  open(slab: number): void;
} {
  const size = rules / sizes[0];
  const own = new Int32Array(cells.length).fill(-1);
  const ownOpen = openCells === null ? null : new Int32Array(cells.length).fill(-1);
  const admit = (from: Int32Array, to: Int32Array, slab: number) => {
    for (let kind = 0; kind < from.length; kind++) {
      if (from[kind] >= slab * size && from[kind] < (slab + 1) * size) {
        to[kind] = from[kind] - slab * size;
      }
    }
  };
  const axes = sizes.length > 1 ? sizes.slice(1) : [1];
  return {
    grid: { sizes: axes, rules: size, whole, cells: own, openCells: ownOpen },
    open(slab) {
      admit(cells, own, slab);
      if (openCells !== null && ownOpen !== null) admit(openCells, ownOpen, slab);
    },
  };
}
