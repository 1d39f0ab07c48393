import type { CellOutput } from "../notebook/notebookFile.js";
import type { PathAndBytes } from "./messages.js";

/** What the page of a notebook sends to its worker. */
export type SentToCells =
  | {
      readonly kind: "begin";
      readonly packageFiles: readonly PathAndBytes[];
      /** The folder of the notebook in the page's memory. */
      readonly folder: string;
      readonly files: readonly PathAndBytes[];
    }
  | { readonly kind: "run"; readonly cell: number; readonly source: string }
  | { readonly kind: "drawn"; readonly picture: number; readonly png: Uint8Array | null };

/** What the worker says. */
export type CellsMessage =
  | { readonly kind: "ready" }
  | { readonly kind: "output"; readonly cell: number; readonly output: CellOutput }
  | {
      readonly kind: "ended";
      readonly cell: number;
      readonly failed: boolean;
      readonly line: number | null;
      /** Files that the cell wrote. */
      readonly files: readonly PathAndBytes[];
    }
  | {
      readonly kind: "draw";
      readonly picture: number;
      readonly svg: string;
      readonly width: number;
    }
  | { readonly kind: "blocked"; readonly what: string };
