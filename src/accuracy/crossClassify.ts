import type { TwoByTwo } from "../results/index.js";
import {
  type ConditionColumn,
  conditionCodes,
  requireSameLength,
  type TestColumn,
  type UndecidablePolicy,
} from "../rows/index.js";
import { decidedCodes } from "./undecidable.js";

/**
 * Counts of test by condition, one row a child (or an eye).
 *
 * @param columns `test`: true, 1 or "refer" is positive; false, 0 or "pass" negative; or
 * "undecidable". `reference`: true or 1 is with the condition, false or 0 without. One length.
 * @param options `undecidable`: how undecidable rows count; required when there are any, because
 * the choice moves the result (`unreadableVariants` shows all of them side by side)
 * @throws when lengths differ, a value is none of the above, or rows are undecidable and no policy is given
 *
 * @example
 * crossClassify({ test: ["refer", "undecidable", "pass"], reference: [true, true, false] }, { undecidable: "pass" }) // => { truePositive: 1, falsePositive: 0, falseNegative: 1, trueNegative: 1 }
 */
export function crossClassify(
  columns: { readonly test: TestColumn; readonly reference: ConditionColumn },
  options: { readonly undecidable?: UndecidablePolicy } = {},
): TwoByTwo {
  const caller = "crossClassify";
  requireSameLength(caller, { test: columns.test, reference: columns.reference });
  const test = decidedCodes(caller, "test", columns.test, options.undecidable);
  const reference = conditionCodes(caller, "reference", columns.reference);
  const counts = new Float64Array(6);
  for (let row = 0; row < test.length; row++) counts[test[row] + 3 * reference[row]]++;
  return {
    truePositive: counts[4],
    falsePositive: counts[1],
    falseNegative: counts[3],
    trueNegative: counts[0],
  };
}
