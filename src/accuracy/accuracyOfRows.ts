import {
  type ClusterColumns,
  type ConditionColumn,
  hasChildren,
  type TestColumn,
} from "../rows/index.js";
import { type Accuracy, accuracyFromCounts } from "./accuracyFromCounts.js";
import {
  type ClusteredAccuracy,
  type ClusteredAccuracyOptions,
  clusteredAccuracy,
} from "./clusteredAccuracy.js";
import { crossClassify } from "./crossClassify.js";

/** Rows of a test and a condition; with `subjects` (or `clusters`) where a child may have several. */
export interface AccuracyRows extends ClusterColumns {
  readonly test: TestColumn;
  readonly reference: ConditionColumn;
}

/** Accuracy over children where subjects are given, else of independent rows. */
export function accuracyOfRows(
  columns: AccuracyRows,
  options: ClusteredAccuracyOptions,
): Accuracy | ClusteredAccuracy {
  return hasChildren(columns)
    ? clusteredAccuracy(columns, options)
    : accuracyFromCounts(crossClassify(columns, options), options);
}
