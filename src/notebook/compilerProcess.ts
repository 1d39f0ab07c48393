// One compiler for all notebooks of a folder: its start costs more than most notebooks.
import { createRequire } from "node:module";
import type { CompiledCell, CompileRequest } from "./cellMessages.js";
import { patchConverter } from "./patchConverter.js";

interface Modules {
  createConverter(options: { isJS: boolean; isBrowser: boolean }): {
    convert(earlier: string, source: string): CompiledCell;
  };
  getCodeMetadata(source: string): { module?: string; mode?: string };
}

patchConverter();
const require = createRequire(import.meta.url);
const { createConverter }: Modules = require("tslab/dist/converter.js");
const { getCodeMetadata }: Modules = require("tslab/dist/metadata.js");
const converter = createConverter({ isJS: false, isBrowser: false });

process.on("message", ({ sources }: CompileRequest) => process.send!(compiled(sources)));

/** Nothing where a cell must be compiled in the notebook's own process: see `notebookCompiler`. */
function compiled(sources: readonly string[]): CompiledCell[] | null {
  const cells: CompiledCell[] = [];
  for (const source of sources) {
    const { module, mode } = getCodeMetadata(source);
    if (module !== undefined || mode === "browser") return null;
    const cell = converter.convert(cells.at(-1)?.declOutput ?? "", source);
    if (cell.diagnostics.length > 0 || cell.sideOutputs) return null;
    cells.push(cell);
  }
  return cells;
}
