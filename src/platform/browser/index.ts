// What a page gives to its side of the platform, and takes from its memory.

export { drawWith } from "./libraries.js";
export {
  keepInMemory,
  lookOutside,
  memoryFile,
  pathsWithin,
  removeFromMemory as forgetFolder,
  writtenSince,
} from "./memoryFiles.js";
export { showWith } from "./notebookHost.js";
export { givePackageFile } from "./packageFiles.js";
export { workIn } from "./paths.js";
