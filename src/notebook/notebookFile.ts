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

/** The JSON of a notebook (nbformat 4) as a notebook; undefined where it is none. */
export function notebookOf(json: unknown, path: string): Notebook | undefined {
  if (typeof json !== "object" || json === null || !("cells" in json)) return undefined;
  const { cells, ...others } = json;
  if (!Array.isArray(cells)) return undefined;
  return { path, cells: cells.map(readCell), others };
}

/** The same notebook as if it had never run. */
export function withoutOutputs(notebook: Notebook): Notebook {
  return { ...notebook, cells: notebook.cells.map((cell) => ({ ...cell, outputs: [] })) };
}

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

/** Text as it is; an object, which the types of JSON have, as JSON. */
export function dataText(value: string | readonly string[] | object): string {
  if (typeof value === "string") return value;
  const isLines = Array.isArray(value) && value.every((line) => typeof line === "string");
  return isLines ? value.join("") : JSON.stringify(value);
}

function joined(text: string | readonly string[]): string {
  return typeof text === "string" ? text : text.join("");
}
