// What differs between machines: files written whole, locked, named; hashes, threads and libraries. `node/`
// holds the side of Node.js, `browser/` the same names for a page; the build of a page takes the latter.

export { base64 } from "./base64.js";
export { fileFault } from "./fileFault.js";
export { fileStem } from "./fileStem.js";
export { filesIn } from "./filesIn.js";
export { hashOfFile, requireUnchanged, whileSame, whileUnchanged } from "./inputFiles.js";
export {
  exists,
  fileState,
  makeFolders,
  namesIn,
  partsOf,
  readBytes,
  readStart,
  readText,
  removeFile,
  unzippedParts,
  whatIs,
} from "./node/files.js";
export { hmacSha256, sha256, sha256Base64 } from "./node/hashes.js";
/** @internal their types are those of the libraries, which a notebook cell need not read */
export {
  chartLibraries,
  databaseLibrary,
  distribution,
  drawPixels,
  has,
  pdfLibraries,
  readWorkbook,
  writeWorkbook,
} from "./node/libraries.js";
/** @internal how a notebook shows things, and its frame library */
export { drawnLater, frameLibrary, kernelDisplay, type MimeBundle } from "./node/notebookHost.js";
export {
  builtFile,
  isBuilt,
  packageBytes,
  packagePath,
  packageText,
  runsBuilt,
} from "./node/packageFiles.js";
/** @internal for the makers of pages alone */
export { type PageThread, startPageThread } from "./node/pageThread.js";
export { basename, dirname, join, relative, resolve } from "./node/paths.js";
export { pause } from "./node/pause.js";
export { secretHex, secretInteger } from "./node/random.js";
export { replaceFolder, requireOwnFolder } from "./node/replaceFolder.js";
export { runtimeName } from "./node/runtime.js";
export {
  MessageChannel,
  MessagePort,
  parentPort,
  receiveMessageOnPort,
  Worker,
  workerData,
} from "./node/threads.js";
export { whileLocked } from "./node/whileLocked.js";
export { type FileContent, type WriteOptions, writeFileWhole } from "./node/writeFileWhole.js";
export { ownVersion } from "./ownVersion.js";
export { readJsonFile, readSmallFile } from "./readSmallFile.js";
export { schemaAtFirstUse, schemaLibrary } from "./schemaAtFirstUse.js";
