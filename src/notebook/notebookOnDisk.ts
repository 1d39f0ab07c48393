import { readFileSync } from "node:fs";
import { sha256, writeFileWhole } from "../platform/index.js";
import { fitting, InputError } from "../results/index.js";
import { type Notebook, type NotebookCell, notebookOf } from "./notebookFile.js";
import { notebookSchema } from "./notebookSchema.js";
import { notebookText } from "./notebookText.js";

/**
 * Reads a notebook (nbformat 4).
 *
 * @throws when the file is no notebook
 */
export function readNotebook(path: string): Notebook {
  let json: unknown;
  try {
    json = JSON.parse(readFileSync(path, "utf8"));
  } catch (error) {
    throw new InputError(`notebooks requires a notebook, got ${path}: ${(error as Error).message}`);
  }
  const wanted = `a notebook as Jupyter writes them (nbformat 4) in ${path}`;
  fitting({ schema: notebookSchema(), caller: "notebooks", wanted }, json);
  return notebookOf(json, path)!;
}

/**
 * Writes it back as Jupyter would: one space of indent, sources and texts as lists of lines. What else the
 * file held (attachments, tags, authors, the kernel) stays.
 */
export async function writeNotebook(notebook: Notebook): Promise<void> {
  await writeFileWhole(notebook.path, notebookText(notebook, idFromSource), {
    caller: "notebooks",
  });
}

/** An id for a cell without one. */
export function idFromSource({ kind, source }: NotebookCell): string {
  return sha256(`${kind}\n${source}`).slice(0, 12);
}
