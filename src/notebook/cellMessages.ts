import type { CellOutput } from "./notebookFile.js";

/** What the runner asks of a notebook's process. */
export interface CellRequest {
  readonly folder: string;
  readonly sources: readonly string[];
}

/** What a notebook's process reports; cells are counted among code cells, from 0. */
export type CellMessage =
  | { readonly kind: "started"; readonly cell: number }
  | { readonly kind: "output"; readonly cell: number; readonly output: CellOutput }
  | { readonly kind: "failed"; readonly cell: number; readonly message?: string }
  | { readonly kind: "complete" };
