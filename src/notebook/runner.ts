export { compareOutputs } from "./compareOutputs.js";
export { type NotebookCompiler, notebookCompiler } from "./notebookCompiler.js";
export {
  type CellOutput,
  mergeStreams,
  type Notebook,
  notebookOf,
  withoutOutputs,
} from "./notebookFile.js";
export { readNotebook, writeNotebook } from "./notebookOnDisk.js";
export { type NotebookRun, runNotebook } from "./runNotebook.js";
