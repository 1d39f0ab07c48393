import { beyond, type Leaf } from "../compileRule.js";
import type { RuleVariable } from "../conditionsOfRule.js";
import { criteria } from "../criteria.js";
import { eyeOf } from "../ruleText.js";
import { fillEye, fillPair } from "./fillQuantity.js";
import { missing } from "./missing.js";
import type { RuleColumns } from "./ruleColumns.js";

/**
 * A variable of each child, rounded to 0.001 as rules compare it. NaN where a needed eye is not
 * measured or lies beyond the instrument's range; limits of one eye of two need both, and a
 * tie in size has none.
 */
export function variableValues(
  { limit, positiveWhen }: RuleVariable,
  columns: RuleColumns,
): Float64Array {
  const leaf = { limit } as Leaf;
  const filled = (fill: (into: Int32Array) => void) => {
    const into = new Int32Array(columns.n);
    fill(into);
    return Float64Array.from(into, (value) =>
      value === missing || Math.abs(value) === beyond ? Number.NaN : value / 1000,
    );
  };
  const eye = eyeOf(limit);
  if (eye === "pair") return filled((into) => fillPair(leaf, columns, 0, into));
  const right = filled((into) => fillEye(leaf, columns.right, 0, into));
  if (eye === "right") return right;
  const left = filled((into) => fillEye(leaf, columns.left, 0, into));
  if (eye === "left") return left;
  const pick = picker(eye, positiveWhen, criteria[limit.criterion].worse);
  return right.map((value, child) =>
    Number.isNaN(value + left[child]) ? Number.NaN : pick(value, left[child]),
  );
}

function picker(
  eye: "either" | "both" | "worse" | "lesser-error" | "greatest-error",
  positiveWhen: "high" | "low",
  worse: "high" | "low",
): (right: number, left: number) => number {
  switch (eye) {
    case "either":
      return positiveWhen === "high" ? Math.max : Math.min;
    case "both":
      return positiveWhen === "high" ? Math.min : Math.max;
    case "worse":
      return worse === "high" ? Math.max : Math.min;
    case "lesser-error":
      return (right, left) => bySize(right, left, Math.abs(right) - Math.abs(left));
    case "greatest-error":
      return (right, left) => bySize(right, left, Math.abs(left) - Math.abs(right));
  }
}

/** The left value where it wins; none of two that are equally far from zero on either side of it. */
function bySize(right: number, left: number, leftBy: number): number {
  if (leftBy === 0 && left !== right) return Number.NaN;
  return leftBy > 0 ? left : right;
}
