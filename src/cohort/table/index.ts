// A cohort as a table of eyes, for slicing.

export { filterEyes, sortEyes } from "./chooseEyes.js";
export { type CohortTable, cohortTable, type EyeTableColumns } from "./cohortTable.js";
export type { EyeRow, EyeValue } from "./eyeRows.js";
export { eyesAsTable } from "./eyesAsTable.js";
export {
  countEyes,
  type EyeCounts,
  type EyeGroup,
  type EyeGrouping,
  groupEyes,
} from "./groupEyes.js";
export { type EyeSummary, summariseEyes } from "./summariseEyes.js";
