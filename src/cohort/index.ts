// Reading files, linking readings to findings, the participant flow.

export {
  type AgeUnit,
  type ColumnMapping,
  columnsJsonSchema,
  columnsSchema,
  type FindingBlock,
  type ReadingBlock,
} from "./columnMapping.js";
export { defineColumns } from "./defineColumns.js";
export {
  type DescribeOptions,
  describeCohort,
  type RefractiveGroup,
} from "./describe/describeCohort.js";
export { examsBeforeScreening } from "./describe/examsBeforeScreening.js";
export {
  type GroupDistribution,
  type ShareBin,
  type ShareDistributions,
  shareDistributions,
} from "./describe/shareDistributions.js";
export { suspectedMismatches } from "./describe/suspectedMismatches.js";
export { suspectedSharedNumbers } from "./describe/suspectedSharedNumbers.js";
export { type AuditedPart, auditFile, type FileAudit } from "./identifiers/auditFile.js";
export {
  type AuditOptions,
  auditIdentifiers,
  type IdentifierAudit,
} from "./identifiers/auditIdentifiers.js";
export {
  type CalendarDate,
  calendarDate,
  completedMonths,
  type DateOrder,
  dateOrders,
  isoDay,
} from "./identifiers/calendarDay.js";
export {
  type DeidentificationLog,
  type DeidentifyOptions,
  deidentify,
} from "./identifiers/deidentify.js";
export type { SuspectedIdentifier } from "./identifiers/identifierScan.js";
export { type KeyTable, keyTableText, readKeyTable } from "./identifiers/keyTable.js";
export { type LoudFault, loudFaults } from "./identifiers/loudFaults.js";
export {
  type AlignedMeasurements,
  type AlignOptions,
  alignMeasurements,
  type MeasurementSource,
} from "./link/alignMeasurements.js";
export { atVertexPlane } from "./link/atVertexPlane.js";
export { type ChildValueOptions, type ChildValues, childValues } from "./link/childValues.js";
export {
  type CombinedRepeats,
  type CombineOptions,
  combineRepeats,
} from "./link/combineRepeats.js";
export { drawnEye } from "./link/drawnEye.js";
export type { AgeLimits } from "./link/eligibility.js";
export { type EyePairOptions, type EyePairs, eyePairs } from "./link/eyePairs.js";
export { type Quantity, quantityColumns } from "./link/eyeQuantity.js";
export { linkCohort } from "./link/linkCohort.js";
export type { LinkOptions } from "./link/linkOptions.js";
export type { OwnValues } from "./link/ownValues.js";
export type { ChosenEyes, Excluded } from "./link/pairedEyes.js";
export { type PairingReport, pairingReport, pairingTable } from "./link/pairingReport.js";
export {
  type MeasurementPairs,
  type PairMeasurementsOptions,
  type PairOutcome,
  pairMeasurements,
} from "./link/pairMeasurements.js";
export { type PowerVectorPairs, powerVectorPairs } from "./link/powerVectorPairs.js";
export type { MeasurementSelection } from "./link/selectMeasurements.js";
export type { ReadingSelection } from "./link/selectReadings.js";
export {
  type ColumnCount,
  type ProblemsByRule,
  problemsByColumn,
  problemsByRule,
  type RuleCount,
} from "./problemLog.js";
export type { ReadOptions } from "./read/readBlocks.js";
export { type CodedTable, readCoded } from "./read/readCoded.js";
export { readFindings } from "./read/readFindings.js";
export { readReadings } from "./read/readReadings.js";
export { sheetNames } from "./read/readXlsx.js";
export type { Source, SourceRow, SourceText } from "./read/source.js";
export {
  type CohortTable,
  cohortTable,
  countEyes,
  type EyeCounts,
  type EyeGroup,
  type EyeGrouping,
  type EyeRow,
  type EyeSummary,
  type EyeTableColumns,
  type EyeValue,
  eyesAsTable,
  filterEyes,
  groupEyes,
  sortEyes,
  summariseEyes,
} from "./table/index.js";
export {
  type ChildColumns,
  type Coded,
  type Cohort,
  type CohortChoices,
  type Correction,
  type CycloplegiaState,
  corrections,
  cycloplegiaStates,
  type EquivalentSource,
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
  type OwnColumn,
  type ParticipantFlow,
  type Problem,
  type ProgrammeDecision,
  programmeDecisions,
  type RawText,
  type Readings,
  type VerificationReason,
  verificationReasons,
  type YesNo,
  yesNoWords,
} from "./types.js";
