import { type Estimate, InputError, type Undefined } from "../../results/index.js";

/** Whether a difference, new minus established, excludes a loss as great as the margin. */
export interface NonInferiority {
  readonly kind: "non-inferiority";
  readonly margin: number;
  /** Of the difference's interval, as its method; null without one. */
  readonly level: number | null;
  readonly method: string | null;
  /** Level of the one-sided conclusion: that of a one-sided interval with the same lower limit. */
  readonly oneSidedLevel: number | null;
  readonly difference: Estimate | Undefined;
  /** "superior" is "non-inferior" whose lower limit is above 0 as well. */
  readonly conclusion: "superior" | "non-inferior" | "not-shown" | "not-estimable";
}

/**
 * Judges a difference (new minus established, greater is better) against a margin stated
 * beforehand: non-inferior when the lower limit is above -margin.
 *
 * Rates are proportions, 0 to 1. The number of children is that of the comparison, which this
 * function does not see.
 *
 * @param difference as `comparePairedAccuracy` and `compareIndependentAccuracy` give it
 * @throws when the margin is not above 0
 *
 * @example
 * nonInferiority({ kind: "estimate", value: -0.01, low: -0.04, high: 0.02, level: 0.95, method: "newcombe" }, { margin: 0.05 }).conclusion // => "non-inferior"
 */
export function nonInferiority(
  difference: Estimate | Undefined,
  { margin }: { readonly margin: number },
): NonInferiority {
  if (!(margin > 0 && Number.isFinite(margin))) {
    throw new InputError(`nonInferiority requires a margin above 0, got ${margin}`);
  }
  if (difference.kind === "undefined") {
    const unknown = { level: null, method: null, oneSidedLevel: null, difference };
    return { kind: "non-inferiority", margin, ...unknown, conclusion: "not-estimable" };
  }
  const { low, level, method } = difference;
  return {
    kind: "non-inferiority",
    margin,
    level,
    method,
    oneSidedLevel: 1 - (1 - level) / 2,
    difference,
    conclusion: low > 0 ? "superior" : low > -margin ? "non-inferior" : "not-shown",
  };
}
