import type { CellOutput } from "./notebookFile.js";

/** What the runner asks of a notebook's process. */
export interface CellRequest {
  readonly folder: string;
  readonly sources: readonly string[];
  /** What the sources were compiled to; without them the process compiles each cell itself. */
  readonly compiled?: readonly CompiledCell[];
}

/** What the compiler of several notebooks is asked. */
export interface CompileRequest {
  readonly sources: readonly string[];
}

/** A cell as the kernel's converter gives it: plain data. */
export interface CompiledCell {
  readonly declOutput?: string;
  readonly diagnostics: readonly unknown[];
  readonly sideOutputs?: readonly unknown[];
}

/** What a notebook's process reports; cells are counted among code cells, from 0. */
export type CellMessage =
  | { readonly kind: "started"; readonly cell: number }
  | { readonly kind: "output"; readonly cell: number; readonly output: CellOutput }
  | { readonly kind: "failed"; readonly cell: number; readonly message?: string }
  | { readonly kind: "complete" };
