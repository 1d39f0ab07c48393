export {
  type CoarseFigures,
  type CoarseProgrammeMeasure,
  type CoarseShare,
  coarseMeasures,
  programmeFigures,
} from "./coarseMeasures.js";
export {
  type ComparedMeasure,
  compareProgrammes,
  type ProgrammeComparison,
} from "./compareProgrammes.js";
export { comparisonTable, shownOfBoth } from "./comparisonTable.js";
export {
  describeProgramme,
  type ProgrammeDescription,
  type ProgrammeGroup,
  type ProgrammeGrouping,
} from "./describeProgramme.js";
export { type FunnelLimits, type FunnelPoint, funnelLimits } from "./funnelLimits.js";
export type { ProgrammeColumns } from "./programmeColumns.js";
export {
  correctedFigures,
  type ProgrammeMeasure,
  type ProgrammeMeasureId,
} from "./programmeMeasures.js";
export { programmeTables } from "./programmeTables.js";
export { shownMeasures } from "./shownMeasures.js";
export {
  type CountingOptions,
  type CountsByDecision,
  countsByDecision,
  type StepCounts,
} from "./stepCounts.js";
