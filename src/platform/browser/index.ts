// What a page gives to its side of the platform, and takes from its memory.

export { drawWith } from "./libraries.js";
export { keepInMemory, removeFromMemory as forgetFolder, writtenSince } from "./memoryFiles.js";
export { givePackageFile } from "./packageFiles.js";
