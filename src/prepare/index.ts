// From the files people have to the files a study needs.

export { choicesJsonSchema, type PreparationChoices } from "./choices.js";
export type { DetectedColumn, DetectedFile } from "./detect/detected.js";
export { detectFiles } from "./detect/detectFiles.js";
export { type Role, roles } from "./detect/roles.js";
export { idMatches } from "./ids/linkReport.js";
export { ignorableWords } from "./ids/normaliseId.js";
export { type LeftOut, type ProposedMapping, proposeMapping } from "./mapping/proposeMapping.js";
export { maskCell } from "./maskCell.js";
export { matchWords, type OpenQuestion } from "./openQuestions.js";
export type { Preparation, PreparedColumn, PreparedFile, PrepareOptions } from "./preparation.js";
export { prepareFiles } from "./prepareFiles.js";
