export { compareOutputs } from "./compareOutputs.js";
export { type Notebook, readNotebook, writeNotebook } from "./notebookFile.js";
export { type NotebookRun, runNotebook } from "./runNotebook.js";
