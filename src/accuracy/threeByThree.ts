import type { TwoByTwo } from "../results/index.js";
import {
  type ConditionColumn,
  conditionCodes,
  requireSameLength,
  type TestColumn,
  testCodes,
  yesNoCodes,
} from "../rows/index.js";

/** Counts of a test result by condition, with the children neither answer covers. */
interface ThreeByThree {
  readonly withCondition: TestCounts;
  readonly withoutCondition: TestCounts;
  /** The reference standard was applied and gave no answer. */
  readonly inconclusive: TestCounts;
}

interface TestCounts {
  readonly positive: number;
  readonly negative: number;
  /** Unreadable, or otherwise without a decision. */
  readonly undecidable: number;
}

/** Counts every combination of test (with undecidable) and reference (with inconclusive). */
export function threeByThree(
  caller: string,
  columns: { readonly test: TestColumn; readonly reference: ConditionColumn },
  inconclusive: "allowed" | "refused",
): ThreeByThree {
  requireSameLength(caller, { test: columns.test, reference: columns.reference });
  const test = testCodes(caller, "test", columns.test);
  const reference =
    inconclusive === "allowed"
      ? yesNoCodes(caller, "reference", columns.reference, { words: { neither: "inconclusive" } })
      : conditionCodes(caller, "reference", columns.reference);
  const counts = new Float64Array(9);
  for (let row = 0; row < test.length; row++) counts[3 * reference[row] + test[row]]++;
  const side = (code: number): TestCounts => ({
    negative: counts[3 * code],
    positive: counts[3 * code + 1],
    undecidable: counts[3 * code + 2],
  });
  return { withoutCondition: side(0), withCondition: side(1), inconclusive: side(2) };
}

/** The decided cells of the two conclusive sides, each with rows added. */
export function tableWith(
  { withCondition, withoutCondition }: ThreeByThree,
  add: Partial<TwoByTwo> = {},
): TwoByTwo {
  return {
    truePositive: withCondition.positive + (add.truePositive ?? 0),
    falsePositive: withoutCondition.positive + (add.falsePositive ?? 0),
    falseNegative: withCondition.negative + (add.falseNegative ?? 0),
    trueNegative: withoutCondition.negative + (add.trueNegative ?? 0),
  };
}
