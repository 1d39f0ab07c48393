// What a row is, once: whose it is, what it says, how its numbers are compared and written.

export { type AgeBand, bandOfRows, bandText } from "./ageBands.js";
export {
  type ChildColumns,
  type ClusterColumns,
  childrenOf,
  hasChildren,
  requireNoSites,
  sitesOf,
  takeClusters,
} from "./childrenOf.js";
export {
  type Clusters,
  clustersOf,
  isLabel,
  type Labels,
  rowsByCluster,
  type SubjectColumn,
} from "./clusters.js";
export {
  requireLength,
  requireNumbers,
  requirePairs,
  requireSameLength,
  requireWeights,
  takeColumns,
  takeRows,
} from "./columns.js";
export { type ClusterCounts, countByCluster } from "./countByCluster.js";
export { type Decision, type Referred, referredOf } from "./decision.js";
export { isOnGrid, noiseOf, onGrid, toThousandths, withoutNoise } from "./dioptres.js";
export { type PositiveWhen, requireDirection } from "./direction.js";
export { type Draws, requireDraws } from "./draws.js";
export { groupRows, rowsOfGroups } from "./groups.js";
export {
  directionOf,
  isStrict,
  type Limit,
  limitAt,
  limitWords,
  meets,
  quantityText,
  type Relation,
  reaches,
} from "./limits.js";
export { decimalSign, type NumberStyle, styledNumbers } from "./numberStyle.js";
export {
  counted,
  fixed,
  grouped,
  percent,
  printSigns,
  unbroken,
  valueText,
} from "./numberWords.js";
export { requireWhole } from "./requireWhole.js";
export { shownValue } from "./shownValue.js";
export { averageOf, sum } from "./sum.js";
export { sumsOf } from "./sumsOf.js";
export { type ExaminationColumns, type Examined, examinedRows } from "./verification.js";
export {
  type ConditionColumn,
  conditionCodes,
  neitherCode,
  type TestColumn,
  testCodes,
  type UndecidablePolicy,
  type YesNoColumn,
  yesNoCodes,
} from "./yesNo.js";
