import { InputError, type TwoByTwo } from "../../results/index.js";
import {
  requireSameLength,
  type TestColumn,
  type UndecidablePolicy,
  yesNoCodes,
} from "../../rows/index.js";
import { decidedCodes } from "../undecidable.js";
import { examinationReasons } from "./decisionRows.js";
import type { Unverified } from "./verificationStrata.js";

/** What `correctVerification` takes, with the findings that may not enter it. */
export interface VerificationCount {
  readonly kind: "verification-count";
  readonly n: number;
  readonly verified: TwoByTwo;
  readonly unverified: Unverified;
  /** Examined, but not because of the result or a draw: counted among the unverified above. */
  readonly foundMeanwhile: TwoByTwo;
  /** Left out by the policy "exclude". */
  readonly excluded: number;
}

/**
 * Sorts the children of a programme into examined and unexamined, one row a child.
 *
 * A finding enters `verified` when a referred child came because of the referral or was drawn
 * ("referred", "sampled"), or when a child who passed was drawn ("sampled"). Passes who presented
 * themselves, and those whose reason is unknown, count as unexamined; what was found in them is
 * listed in `foundMeanwhile`, because they come more often when they have the condition. The rule here
 * is the one that decided whom to examine; a rule that did not goes to `verificationCells`.
 *
 * @param columns `reason`: "referred", "sampled", "self-presented", "unknown", or "not-examined";
 * `reference` is read only where a child was examined (null or anything else is fine elsewhere)
 * @throws when lengths differ, a value is unknown, or rows are undecidable and no policy is given
 *
 * @example
 * countVerification({ test: [1, 1, 0, 0], reference: [1, null, 0, 1], reason: ["referred", "not-examined", "sampled", "self-presented"] }).unverified // => { testPositive: 1, testNegative: 1 }
 */
export function countVerification(
  columns: {
    readonly test: TestColumn;
    readonly reference: ArrayLike<boolean | number | string | null | undefined>;
    readonly reason: ArrayLike<string>;
  },
  options: { readonly undecidable?: UndecidablePolicy } = {},
): VerificationCount {
  const caller = "countVerification";
  const n = requireSameLength(caller, {
    test: columns.test,
    reference: columns.reference,
    reason: columns.reason,
  });
  const test = decidedCodes(caller, "test", columns.test, options.undecidable);
  const looked = Uint8Array.from(columns.reason, (reason, row) => {
    if (!examinationReasons.includes(reason)) {
      throw new InputError(
        `${caller} requires reason ${examinationReasons.join(", ")}, got ${reason} in row ${row}`,
      );
    }
    return Number(reason !== "not-examined" && test[row] < 2);
  });
  const reference = yesNoCodes(caller, "reference of examined rows", columns.reference, {
    only: looked,
  });
  const verified = [0, 0, 0, 0];
  const meanwhile = [0, 0, 0, 0];
  const unverified = [0, 0];
  let excluded = 0;
  for (let row = 0; row < n; row++) {
    if (test[row] === 2) {
      excluded++;
      continue;
    }
    const positive = test[row];
    const reason = columns.reason[row];
    const counted = reason === "sampled" || (reason === "referred" && positive === 1);
    if (looked[row] === 1) (counted ? verified : meanwhile)[positive + 2 * reference[row]]++;
    if (!counted) unverified[positive]++;
  }
  return {
    kind: "verification-count",
    n,
    verified: asTable(verified),
    unverified: { testPositive: unverified[1], testNegative: unverified[0] },
    foundMeanwhile: asTable(meanwhile),
    excluded,
  };
}

const asTable = ([
  trueNegative,
  falsePositive,
  falseNegative,
  truePositive,
]: number[]): TwoByTwo => ({
  truePositive,
  falsePositive,
  falseNegative,
  trueNegative,
});
