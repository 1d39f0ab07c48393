import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { writeFileWhole } from "../platform/index.js";
import { InputError } from "../results/index.js";

/** What one cell left behind; the notebook kernel knows only these two kinds. */
export type CellOutput =
  | { readonly output_type: "stream"; readonly name: "stdout" | "stderr"; readonly text: string }
  | {
      readonly output_type: "display_data";
      readonly data: Readonly<Record<string, string>>;
      readonly metadata: Readonly<Record<string, unknown>>;
    };

export interface NotebookCell {
  readonly kind: "code" | "markdown" | "raw";
  readonly source: string;
  readonly outputs: readonly CellOutput[];
  /** What else the file says of the cell: its id, metadata such as tags, attachments. */
  readonly others?: Readonly<Record<string, unknown>>;
}

/** A notebook file, its strings joined. */
export interface Notebook {
  readonly path: string;
  readonly cells: readonly NotebookCell[];
  /** What else the file says: metadata such as authors and kernel, the version of the format. */
  readonly others?: Readonly<Record<string, unknown>>;
}

/**
 * Reads a notebook (nbformat 4).
 *
 * @throws when the file is no notebook
 */
export function readNotebook(path: string): Notebook {
  let json: { cells?: unknown; [other: string]: unknown };
  try {
    json = JSON.parse(readFileSync(path, "utf8"));
  } catch (error) {
    throw new InputError(`notebooks requires a notebook, got ${path}: ${(error as Error).message}`);
  }
  if (!Array.isArray(json.cells)) throw new InputError(`notebooks requires cells, got ${path}`);
  const { cells, ...others } = json;
  return { path, cells: json.cells.map(readCell), others };
}

/**
 * Writes it back as Jupyter would: one space of indent, sources and texts as lists of lines. What else the
 * file held (attachments, tags, authors, the kernel) stays.
 */
export async function writeNotebook(notebook: Notebook): Promise<void> {
  await writeFileWhole(notebook.path, notebookText(notebook), { caller: "notebooks" });
}

/** The same notebook as if it had never run. */
export function withoutOutputs(notebook: Notebook): Notebook {
  return { ...notebook, cells: notebook.cells.map((cell) => ({ ...cell, outputs: [] })) };
}

/** The file's text. An id that is missing comes from the source, so that a changed cell changes only itself. */
export function notebookText(notebook: Notebook): string {
  const seen = new Map<string, number>();
  let count = 0;
  const cells = notebook.cells.map((cell) => {
    const hash = createHash("sha256").update(`${cell.kind}\n${cell.source}`).digest("hex");
    const times = (seen.get(hash) ?? 0) + 1;
    seen.set(hash, times);
    const id = times === 1 ? hash.slice(0, 12) : `${hash.slice(0, 12)}-${times}`;
    const common = { cell_type: cell.kind, id, metadata: {}, ...cell.others };
    if (cell.kind !== "code") return inOrder({ ...common, source: lines(cell.source) });
    count += 1;
    const outputs = cell.outputs.map(outputJson);
    return inOrder({ ...common, execution_count: count, outputs, source: lines(cell.source) });
  });
  const own = { nbformat: 4, nbformat_minor: 5, ...notebook.others };
  const file = {
    ...own,
    cells,
    metadata: { ...metadata, ...(own as { metadata?: object }).metadata },
  };
  return `${JSON.stringify(inOrder({ ...file, nbformat_minor: Math.max(5, Number(file.nbformat_minor)) }), null, 1)}\n`;
}

/** Keys by the alphabet, as Jupyter writes them. */
function inOrder(json: Readonly<Record<string, unknown>>): Record<string, unknown> {
  return Object.fromEntries(Object.entries(json).sort(([a], [b]) => (a < b ? -1 : 1)));
}

const metadata = {
  kernelspec: {
    display_name: "TypeScript (meridional)",
    language: "typescript",
    name: "meridional",
  },
  language_info: {
    codemirror_mode: { mode: "typescript", name: "javascript", typescript: true },
    file_extension: ".ts",
    mimetype: "text/typescript",
    name: "typescript",
    version: "3.7.2",
  },
};

function readCell(cell: {
  cell_type: NotebookCell["kind"];
  source: string | string[];
  outputs?: RawOutput[];
  [other: string]: unknown;
}): NotebookCell {
  const { cell_type, source, outputs, execution_count, ...others } = cell;
  return {
    kind: cell_type,
    source: joined(source),
    outputs: mergeStreams((outputs ?? []).map(readOutput)),
    others,
  };
}

interface RawOutput {
  readonly output_type: string;
  readonly name?: "stdout" | "stderr";
  readonly text?: string | string[];
  readonly data?: Readonly<Record<string, string | string[] | object>>;
  readonly metadata?: Readonly<Record<string, unknown>>;
}

function readOutput(output: RawOutput): CellOutput {
  if (output.output_type === "stream") {
    return { output_type: "stream", name: output.name!, text: joined(output.text!) };
  }
  const data = Object.fromEntries(
    Object.entries(output.data ?? {}).map(([type, value]) => [type, dataText(value)]),
  );
  return { output_type: "display_data", data, metadata: output.metadata ?? {} };
}

/** Consecutive pieces of one stream become one output, as a notebook page does. */
export function mergeStreams(outputs: readonly CellOutput[]): CellOutput[] {
  const merged: CellOutput[] = [];
  for (const output of outputs) {
    const last = merged.at(-1);
    if (
      output.output_type === "stream" &&
      last?.output_type === "stream" &&
      last.name === output.name
    ) {
      merged[merged.length - 1] = { ...last, text: last.text + output.text };
    } else merged.push(output);
  }
  return merged;
}

function outputJson(output: CellOutput): object {
  if (output.output_type === "stream") {
    return { name: output.name, output_type: "stream", text: lines(output.text) };
  }
  const data = Object.fromEntries(
    Object.entries(output.data)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([type, value]) => [
        type,
        type.startsWith("text/") ? lines(value) : dataOf(type, value),
      ]),
  );
  return { data, metadata: output.metadata, output_type: "display_data" };
}

/** Text as it is; an object, which the types of JSON have, as JSON. */
function dataText(value: string | readonly string[] | object): string {
  if (typeof value === "string") return value;
  const isLines = Array.isArray(value) && value.every((line) => typeof line === "string");
  return isLines ? value.join("") : JSON.stringify(value);
}

/** The way back: what is JSON by its type and its text is an object again. */
function dataOf(type: string, value: string): unknown {
  if (!/[/+]json$/.test(type) || !/^[[{]/.test(value)) return value;
  try {
    return JSON.parse(value);
  } catch {
    return value;
  }
}

function joined(text: string | readonly string[]): string {
  return typeof text === "string" ? text : text.join("");
}

function lines(text: string): string[] {
  return text.match(/[^\n]*\n|[^\n]+$/g) ?? [];
}
