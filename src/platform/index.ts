// Files on this machine: written whole, locked, named.

export { fileFault } from "./fileFault.js";
export { fileStem } from "./fileStem.js";
export {
  fileState,
  hashOfFile,
  requireUnchanged,
  whileSame,
  whileUnchanged,
} from "./inputFiles.js";
export { readJsonFile, readSmallFile } from "./readSmallFile.js";
export { replaceFolder, requireOwnFolder } from "./replaceFolder.js";
export { whileLocked } from "./whileLocked.js";
export { type FileContent, type WriteOptions, writeFileWhole } from "./writeFileWhole.js";
