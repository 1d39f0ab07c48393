export { atVertexPlane } from "./atVertexPlane.js";
export { type AuditedPart, auditFile, type FileAudit } from "./auditFile.js";
export { type AuditOptions, auditIdentifiers, type IdentifierAudit } from "./auditIdentifiers.js";
export { type ChildValueOptions, type ChildValues, childValues } from "./childValues.js";
export {
  type ColumnMapping,
  columnsSchema,
  defineColumns,
  type FindingBlock,
  type ReadingBlock,
} from "./columnMapping.js";
export { type CombinedRepeats, type CombineOptions, combineRepeats } from "./combineRepeats.js";
export { type DeidentificationLog, type DeidentifyOptions, deidentify } from "./deidentify.js";
export { type DescribeOptions, describeCohort, type RefractiveGroup } from "./describeCohort.js";
export type { AgeLimits } from "./eligibility.js";
export { type Excluded, type EyePairOptions, type EyePairs, eyePairs } from "./eyePairs.js";
export type { EquivalentSource, Quantity } from "./eyeQuantity.js";
export type { SuspectedIdentifier } from "./identifierScan.js";
export { type LinkOptions, linkCohort } from "./linkCohort.js";
export type { Source, SourceRow, SourceText } from "./openSource.js";
export { type PairingReport, pairingReport, pairingTable } from "./pairingReport.js";
export { problemsByRule, type RuleCount } from "./problemLog.js";
export type { ReadOptions } from "./readBlocks.js";
export { readFindings } from "./readFindings.js";
export { readReadings } from "./readReadings.js";
export type { ReadingSelection } from "./selectReadings.js";
export {
  type GroupDistribution,
  type ShareBin,
  type ShareDistributions,
  shareDistributions,
} from "./shareDistributions.js";
export { suspectedMismatches } from "./suspectedMismatches.js";
export { suspectedSharedNumbers } from "./suspectedSharedNumbers.js";
export {
  type ChildColumns,
  type Coded,
  type Cohort,
  type Correction,
  type CycloplegiaState,
  corrections,
  cycloplegiaStates,
  type Eye,
  type EyeOutcome,
  eyeOutcomes,
  eyes,
  type Findings,
  type FlowBox,
  type FreeFlag,
  type MeasurementColumns,
  type MeasurementStatus,
  measurementStatuses,
  type ParticipantFlow,
  type Problem,
  type RawText,
  type Readings,
  type VerificationReason,
  verificationReasons,
} from "./types.js";
