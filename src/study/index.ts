export type { ResultDifference } from "./differences.js";
export { draftStudy } from "./draftStudy.js";
export { requireOwnFolder } from "./replaceFolder.js";
export type { Report, ReportBlock, ReportSection } from "./report.js";
export { type Reproduction, reproduceStudy } from "./reproduceStudy.js";
export { type RunStudyOptions, runStudy } from "./runStudy.js";
export { studyReport } from "./studyReport.js";
export type {
  AgreementResult,
  AstigmatismResult,
  ConditionResult,
  ProblemCount,
  StudyResult,
} from "./studyResult.js";
export { summaryLines } from "./summaryLines.js";
export { type Manifest, type WriteReportOptions, writeReport } from "./writeReport.js";
