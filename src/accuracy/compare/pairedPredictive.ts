import { jackknifeSums, logEstimate, symmetricEstimate, twoSidedP } from "../../inference/index.js";
import { type Estimate, type Undefined, undefinedBecause } from "../../results/index.js";

/** One predictive value of two rules on the same children. */
export interface PairedPredictive {
  readonly first: number | null;
  readonly second: number | null;
  /** First minus second. */
  readonly difference: Estimate | Undefined;
  /** First over second (Moskowitz and Pepe 2006). */
  readonly ratio: Estimate | Undefined;
  /** Two-sided, of the difference; null where it cannot be tested. */
  readonly p: number | null;
}

/**
 * Compares a predictive value of two rules applied to the same children. Its denominators differ
 * from rule to rule, so the variance is linearised on child totals (delta method); without
 * subjects each row is a child of its own.
 *
 * @param rows per row: whether each rule gave the result in question (1 or 0), whether the row is
 * then right, and its child from 0 to `children` - 1
 */
export function pairedPredictive(
  rows: {
    readonly first: ArrayLike<number>;
    readonly second: ArrayLike<number>;
    readonly right: ArrayLike<number>;
    readonly child: ArrayLike<number>;
    readonly children: number;
  },
  level: number,
): PairedPredictive {
  const one = predictive(rows.first, rows.right);
  const other = predictive(rows.second, rows.right);
  if (one === undefined || other === undefined) {
    const reason = undefinedBecause("one of the rules never gives this result");
    return {
      first: one?.value ?? null,
      second: other?.value ?? null,
      difference: reason,
      ratio: reason,
      p: null,
    };
  }
  const influence = new Float64Array(rows.children);
  const logInfluence = new Float64Array(rows.children);
  const seen = new Uint8Array(rows.children);
  for (let row = 0; row < rows.right.length; row++) {
    const child = rows.child[row];
    const a = rows.first[row] ? (rows.right[row] - one.value) / one.rows : 0;
    const b = rows.second[row] ? (rows.right[row] - other.value) / other.rows : 0;
    influence[child] += a - b;
    logInfluence[child] += a / one.value - b / other.value;
    seen[child] = 1;
  }
  const children = seen.reduce((sum, flag) => sum + flag, 0);
  // children all alike leave a speck of rounding, not a variance
  const errorOf = (parts: Float64Array) => {
    const sum = parts.reduce((squares, part) => squares + part * part, 0);
    const error = Math.sqrt((children / (children - 1)) * sum);
    return children < 2 || error < 1e-9 ? 0 : error;
  };
  const made = { first: one.value, second: other.value };
  const se = errorOf(influence);
  const logSe = errorOf(logInfluence);
  if (se === 0) {
    const reason = undefinedBecause("the two rules do not differ between children: no variance");
    return { ...made, difference: reason, ratio: reason, p: null };
  }
  const value = one.value - other.value;
  return {
    ...made,
    difference: symmetricEstimate(value, se, level, "linearised"),
    ratio:
      one.value > 0 && other.value > 0 && logSe > 0
        ? logEstimate(one.value / other.value, logSe, level, "log")
        : undefinedBecause(
            logSe === 0
              ? "the ratio does not differ between children: no variance"
              : "a predictive value of 0 has no ratio",
          ),
    p: twoSidedP(value / se),
  };
}

/**
 * The same with sites above children: the difference jackknifed as it is, the ratio on the
 * logarithm. There is no test: none is known to hold for few sites.
 */
export function sitePredictive(
  rows: {
    readonly first: ArrayLike<number>;
    readonly second: ArrayLike<number>;
    readonly right: ArrayLike<number>;
    readonly site: ArrayLike<number>;
    readonly sites: number;
  },
  level: number,
): PairedPredictive {
  const sums = Array.from({ length: rows.sites }, () => [0, 0, 0, 0]);
  for (let row = 0; row < rows.right.length; row++) {
    const of = sums[rows.site[row]];
    const [a, b, right] = [rows.first[row], rows.second[row], rows.right[row]];
    of[0] += a;
    of[1] += a * right;
    of[2] += b;
    of[3] += b * right;
  }
  const estimate = (statistic: (one: number, other: number) => number, scale: "plain" | "log") =>
    jackknifeSums(
      sums,
      ([a, aRight, b, bRight]) => (a === 0 || b === 0 ? null : statistic(aRight / a, bRight / b)),
      { denominator: ([a, , b]) => a + b, scale, level },
    );
  return {
    first: predictive(rows.first, rows.right)?.value ?? null,
    second: predictive(rows.second, rows.right)?.value ?? null,
    difference: estimate((one, other) => one - other, "plain"),
    ratio: estimate((one, other) => (one > 0 && other > 0 ? one / other : Number.NaN), "log"),
    p: null,
  };
}

function predictive(chosen: ArrayLike<number>, right: ArrayLike<number>) {
  let rows = 0;
  let correct = 0;
  for (let row = 0; row < right.length; row++) {
    if (!chosen[row]) continue;
    rows++;
    correct += right[row];
  }
  return rows === 0 ? undefined : { value: correct / rows, rows };
}
