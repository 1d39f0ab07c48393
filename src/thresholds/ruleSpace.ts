import { InputError } from "../results/index.js";
import { type BinnedRows, binRows } from "./ruleBins.js";

/** Values of each criterion, one array a criterion; high is worse. */
export type Measures = { readonly [criterion: string]: ArrayLike<number> };

/** Limits of each criterion, ascending; `Infinity` (or null, as saved) switches the criterion off. */
export type Limits = { readonly [criterion: string]: ArrayLike<number | null> };

export type UnreadablePolicy = "refer" | "pass" | "exclude";

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
export interface RuleSpace {
  readonly kind: "ruleSpace";
  readonly n: number;
  readonly criteria: readonly string[];
  /** Limits by criterion, ascending; null is "switched off". */
  readonly limits: { readonly [criterion: string]: readonly (number | null)[] };
  readonly rules: number;
  readonly weighted: boolean;
  readonly unreadable: UnreadablePolicy | null;
  readonly withCondition: RuleCounts;
  readonly withoutCondition: RuleCounts;
}

/** Above this many rules the whole space is refused; the front can still be streamed. */
const mostRules = 40_000_000;

/**
 * Counts of every joint any-of referral rule on a grid, at once.
 *
 * A child is referred by a rule when any of its values is >= that criterion's limit; a strict limit
 * is the next step of the grid, and a limit of `Infinity` switches the criterion off. Each child
 * falls into one cell of a histogram over its values binned at the limits; cumulative sums along
 * each axis then give those not referred by every rule, in time proportional to children + cells.
 *
 * @param data measures and limits are objects with the same keys; condition is true or 1 for
 *   children with the condition; weights, if given, are inverse probabilities of examination
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
    readonly condition: ArrayLike<boolean | number>;
    readonly limits: Limits;
    readonly weights?: ArrayLike<number>;
  },
  options: { readonly unreadable?: UnreadablePolicy } = {},
): RuleSpace {
  const binned = binRows("ruleSpace", data, options.unreadable);
  if (binned.rules > mostRules) {
    const bytes = binned.rules * (binned.weighted ? 16 : 8);
    throw new InputError(
      `ruleSpace requires at most ${mostRules} rules, got ${binned.rules} (${Math.round(bytes / 1e6)} MB of counts); take fewer limits, or stream the front with streamRules`,
    );
  }
  return {
    kind: "ruleSpace",
    n: binned.n,
    criteria: binned.criteria,
    limits: savedLimits(binned),
    rules: binned.rules,
    weighted: binned.weighted,
    unreadable: options.unreadable ?? null,
    withCondition: classCounts(binned, 1, options.unreadable),
    withoutCondition: classCounts(binned, 0, options.unreadable),
  };
}

function classCounts(binned: BinnedRows, wanted: 0 | 1, policy?: UnreadablePolicy): RuleCounts {
  const array = () =>
    binned.weighted ? new Float64Array(binned.rules) : new Int32Array(binned.rules);
  const total = wanted === 1 ? binned.totalWith : binned.totalWithout;
  const passed = array();
  fillHistogram(passed, binned, wanted, policy === "pass" ? "pass" : "refer");
  accumulate(passed, binned.sizes);
  if (policy !== "exclude" || !binned.anyMissing) return { total, passed, undecidable: null };
  const lenient = array();
  fillHistogram(lenient, binned, wanted, "pass");
  accumulate(lenient, binned.sizes);
  for (let rule = 0; rule < lenient.length; rule++) lenient[rule] -= passed[rule];
  return { total, passed, undecidable: lenient };
}

/** Adds each row of a class to the cell from which on it is not referred. */
function fillHistogram(
  counts: Int32Array | Float64Array,
  binned: BinnedRows,
  wanted: 0 | 1,
  missing: "refer" | "pass",
): void {
  const { condition, weights, n } = binned;
  const cells = missing === "refer" ? binned.cellStrict : binned.cellLenient;
  for (let row = 0; row < n; row++) {
    if (condition[row] !== wanted) continue;
    const cell = cells[row];
    if (cell >= 0) counts[cell] += weights === null ? 1 : weights[row];
  }
}

/** Cumulative sums along each axis of a row-major array, in place. */
export function accumulate(counts: Int32Array | Float64Array, sizes: readonly number[]): void {
  let stride = counts.length;
  for (const size of sizes) {
    const block = stride;
    stride /= size;
    if (stride === 1) {
      for (let start = 0; start < counts.length; start += block) {
        let sum = 0;
        for (let at = start; at < start + block; at++) {
          sum += counts[at];
          counts[at] = sum;
        }
      }
    } else {
      for (let start = 0; start < counts.length; start += block) {
        for (let at = start + stride; at < start + block; at++) counts[at] += counts[at - stride];
      }
    }
  }
}

function savedLimits(binned: BinnedRows): { [criterion: string]: (number | null)[] } {
  return Object.fromEntries(
    binned.criteria.map((criterion, axis) => [
      criterion,
      binned.limits[axis].map((limit) => (limit === Number.POSITIVE_INFINITY ? null : limit)),
    ]),
  );
}
