import {
  childrenOf,
  sitesOf,
  takeClusters,
  takeColumns,
  type UndecidablePolicy,
} from "../rows/index.js";
import type { Accuracy, AccuracyOptions } from "./accuracyFromCounts.js";
import { type AccuracyRows, accuracyOfRows } from "./accuracyOfRows.js";
import type { ClusteredAccuracy } from "./clusteredAccuracy.js";
import { type RateBounds, rateBounds } from "./rateBounds.js";
import { requireWord } from "./requireTable.js";
import { tableWith, threeByThree } from "./threeByThree.js";
import { decidedCodes } from "./undecidable.js";

/** How an exam without an answer is counted. */
export type InconclusivePolicy = "with-condition" | "without-condition" | "exclude";

export interface InconclusiveVariant {
  readonly policy: InconclusivePolicy;
  readonly accuracy: Accuracy | ClusteredAccuracy;
}

/** Inconclusive exams, counted in every way or in the one stated beforehand, and their bounds. */
export interface InconclusiveVariants extends RateBounds {
  readonly kind: "inconclusive-variants";
  readonly n: number;
  readonly inconclusive: { readonly testPositive: number; readonly testNegative: number };
  readonly preSpecified: InconclusivePolicy | null;
  readonly variants: readonly InconclusiveVariant[];
}

/**
 * Accuracy when the reference standard gave no answer for some children (a 2x3 table): counted with
 * the condition, without it, or left out, side by side unless `preSpecified`. The bounds
 * (`sensitivity` and so on) count inconclusive positives as false and inconclusive negatives as
 * missed, and the other way round; they carry no sampling error. Without `subjects` rows are taken
 * as independent; where they repeat, `interval` is refused, as by `clusteredAccuracy`.
 *
 * Rates are proportions, 0 to 1.
 *
 * @param columns `reference` may hold "inconclusive"
 * @throws when lengths differ, a value is not one of its words, or rows are undecidable and no
 * policy is given
 *
 * @example
 * inconclusiveVariants({ test: [1, 1, 0, 0], reference: [1, "inconclusive", 0, "inconclusive"] }).specificity // => { kind: "bounds", low: 0.5, high: 1 }
 */
export function inconclusiveVariants(
  columns: AccuracyRows,
  options: AccuracyOptions & {
    readonly preSpecified?: InconclusivePolicy;
    readonly undecidable?: UndecidablePolicy;
  } = {},
): InconclusiveVariants {
  const caller = "inconclusiveVariants";
  const { preSpecified, undecidable, ...accuracyOptions } = options;
  if (preSpecified !== undefined) requireWord(caller, "preSpecified", policies, preSpecified);
  const test = Array.from(decidedCodes(caller, "test", columns.test, undecidable), (code) =>
    code === 2 ? "undecidable" : code,
  );
  const counts = threeByThree(caller, { test, reference: columns.reference }, "allowed");
  sitesOf(caller, columns, childrenOf(caller, columns, columns.test.length));
  const { positive, negative } = counts.inconclusive;
  return {
    kind: "inconclusive-variants",
    n: columns.test.length,
    inconclusive: { testPositive: positive, testNegative: negative },
    preSpecified: preSpecified ?? null,
    variants: (preSpecified === undefined ? policies : [preSpecified]).map((policy) => ({
      policy,
      accuracy: accuracyOfRows(decided(columns, policy), { ...accuracyOptions, undecidable }),
    })),
    ...rateBounds(
      tableWith(counts, { falsePositive: positive, falseNegative: negative }),
      tableWith(counts, { truePositive: positive, trueNegative: negative }),
    ),
  };
}

/** The rows with inconclusive exams counted, or left out. */
function decided(
  { test, reference, ...children }: AccuracyRows,
  policy: InconclusivePolicy,
): AccuracyRows {
  const known = Array.from(reference, (value) =>
    value === "inconclusive" ? policy === "with-condition" : value,
  );
  if (policy !== "exclude") return { ...children, test, reference: known };
  const rows = known.flatMap((_, row) => (reference[row] === "inconclusive" ? [] : [row]));
  return { ...takeColumns({ test, reference }, rows), ...takeClusters(children, rows) };
}

const policies = ["with-condition", "without-condition", "exclude"] as const;
