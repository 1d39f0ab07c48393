export { type RunStudyOptions, runStudy } from "./runStudy.js";
export type {
  AgreementResult,
  AstigmatismResult,
  ConditionResult,
  ProblemCount,
  StudyResult,
} from "./studyResult.js";
