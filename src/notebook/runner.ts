export { compareOutputs } from "./compareOutputs.js";
export { type NotebookCompiler, notebookCompiler } from "./notebookCompiler.js";
export { type Notebook, readNotebook, withoutOutputs, writeNotebook } from "./notebookFile.js";
export { type NotebookRun, runNotebook } from "./runNotebook.js";
