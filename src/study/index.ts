// A protocol's run, its report, its manifest.

export { confidentialFolder } from "./publish/confidentialFolder.js";
export type { ResultDifference } from "./publish/differences.js";
export {
  compareReleases,
  type ReleaseComparison,
  requireReleasable,
} from "./publish/releases.js";
export { type Reproduction, reproduceStudy } from "./publish/reproduceStudy.js";
export {
  type Manifest,
  type PublicManifest,
  type WriteReportOptions,
  writeReport,
} from "./publish/writeReport.js";
export { readStudyResult } from "./publish/writtenStudy.js";
export type { Report, ReportBlock, ReportSection } from "./report/report.js";
export { studyReport } from "./report/studyReport.js";
export { summaryLines } from "./report/summaryLines.js";
export { draftStudy, type StudyDraft } from "./run/draftStudy.js";
export { programmeColumns } from "./run/programmeColumns.js";
export { type RunStudyOptions, runStudy } from "./run/runStudy.js";
export type {
  AgreementResult,
  AstigmatismResult,
  ConditionResult,
  ProblemCount,
  StudyResult,
} from "./run/studyResult.js";
