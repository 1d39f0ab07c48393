import { InputError, type TwoByTwo } from "../results/index.js";
import {
  type ConditionColumn,
  conditionCodes,
  requireSameLength,
  type TestColumn,
  testCodes,
} from "./columns.js";
import { requireWord } from "./requireTable.js";

/** How a row without a decision is counted. */
export type UndecidablePolicy = "refer" | "pass" | "exclude";
export const undecidablePolicies = ["refer", "pass", "exclude"] as const;

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
  requireSameLength(caller, columns);
  const test = testCodes(caller, "test", columns.test);
  const reference = conditionCodes(caller, "reference", columns.reference);
  const { undecidable } = options;
  if (undecidable !== undefined) {
    requireWord(caller, "undecidable", undecidablePolicies, undecidable);
  } else if (test.includes(2)) {
    throw new InputError(
      `${caller} requires undecidable "refer", "pass" or "exclude" when the test holds "undecidable", got none`,
    );
  }
  const counts = new Float64Array(6);
  for (let row = 0; row < test.length; row++) counts[test[row] + 3 * reference[row]]++;
  const refer = undecidable === "refer" ? 1 : 0;
  const pass = undecidable === "pass" ? 1 : 0;
  return {
    truePositive: counts[4] + refer * counts[5],
    falsePositive: counts[1] + refer * counts[2],
    falseNegative: counts[3] + pass * counts[5],
    trueNegative: counts[0] + pass * counts[2],
  };
}
