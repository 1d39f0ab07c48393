import { childrenOf, sitesOf, type UndecidablePolicy } from "../rows/index.js";
import type { Accuracy, AccuracyOptions } from "./accuracyFromCounts.js";
import { type AccuracyRows, accuracyOfRows } from "./accuracyOfRows.js";
import type { ClusteredAccuracy } from "./clusteredAccuracy.js";
import { requireWord } from "./requireTable.js";
import { threeByThree } from "./threeByThree.js";

/** One way to count the unreadable, with what it gives. */
export interface UnreadableVariant {
  readonly policy: UndecidablePolicy;
  readonly accuracy: Accuracy | ClusteredAccuracy;
}

/** The unreadable children, counted in every way or in the one stated beforehand. */
export interface UnreadableVariants {
  readonly kind: "unreadable-variants";
  readonly n: number;
  readonly unreadable: { readonly withCondition: number; readonly withoutCondition: number };
  /** The way stated before the data were seen; null when none was. */
  readonly preSpecified: UndecidablePolicy | null;
  /** All three side by side, or only the pre-specified one. */
  readonly variants: readonly UnreadableVariant[];
}

/**
 * Accuracy with unreadable children referred, passed, or left out, side by side: none of the three
 * is the right one unless the study said so beforehand (`preSpecified`). Worst and best case are
 * `unreadableBounds`. Without `subjects` rows are taken as independent; where they repeat, `interval`
 * is refused, as by `clusteredAccuracy`.
 *
 * Rates are proportions, 0 to 1.
 *
 * @throws when lengths differ, or a value or option is not one of its words
 *
 * @example
 * unreadableVariants({ test: [1, "undecidable", 0, 0], reference: [1, 1, 0, 0] }).variants.map((variant) => variant.accuracy.sensitivity.value) // => [1, 0.5, 1]
 */
export function unreadableVariants(
  columns: AccuracyRows,
  options: AccuracyOptions & { readonly preSpecified?: UndecidablePolicy } = {},
): UnreadableVariants {
  const caller = "unreadableVariants";
  const { preSpecified, ...accuracyOptions } = options;
  if (preSpecified !== undefined) requireWord(caller, "preSpecified", policies, preSpecified);
  const counts = threeByThree(caller, columns, "refused");
  sitesOf(caller, columns, childrenOf(caller, columns, columns.test.length));
  return {
    kind: "unreadable-variants",
    n: columns.test.length,
    unreadable: {
      withCondition: counts.withCondition.undecidable,
      withoutCondition: counts.withoutCondition.undecidable,
    },
    preSpecified: preSpecified ?? null,
    variants: (preSpecified === undefined ? policies : [preSpecified]).map((policy) => ({
      policy,
      accuracy: accuracyOfRows(columns, { ...accuracyOptions, undecidable: policy }),
    })),
  };
}

const policies = ["refer", "pass", "exclude"] as const;
