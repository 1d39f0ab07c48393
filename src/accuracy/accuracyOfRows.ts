import type { ConditionColumn, SubjectColumn, TestColumn } from "../rows/index.js";
import { type Accuracy, accuracyFromCounts } from "./accuracyFromCounts.js";
import {
  type ClusteredAccuracy,
  type ClusteredAccuracyOptions,
  clusteredAccuracy,
} from "./clusteredAccuracy.js";
import { crossClassify } from "./crossClassify.js";

/** Rows of a test and a condition; with `subjects` where a child may have several. */
export interface AccuracyRows {
  readonly test: TestColumn;
  readonly reference: ConditionColumn;
  readonly subjects?: SubjectColumn;
}

/** Accuracy over children where subjects are given, else of independent rows. */
export function accuracyOfRows(
  { test, reference, subjects }: AccuracyRows,
  options: ClusteredAccuracyOptions,
): Accuracy | ClusteredAccuracy {
  return subjects
    ? clusteredAccuracy({ test, reference, subjects }, options)
    : accuracyFromCounts(crossClassify({ test, reference }, options), options);
}
