import type { CellOutput, Notebook, NotebookCell } from "./notebookFile.js";

/**
 * The file's text.
 *
 * @param idOf the id of a cell that has none; from its source, a changed cell changes only itself
 */
export function notebookText(notebook: Notebook, idOf: (cell: NotebookCell) => string): string {
  const seen = new Map<string, number>();
  let count = 0;
  const cells = notebook.cells.map((cell) => {
    const own = idOf(cell);
    const times = (seen.get(own) ?? 0) + 1;
    seen.set(own, times);
    const id = times === 1 ? own : `${own}-${times}`;
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

/** The way back: what is JSON by its type and its text is an object again. */
function dataOf(type: string, value: string): unknown {
  if (!/[/+]json$/.test(type) || !/^[[{]/.test(value)) return value;
  try {
    return JSON.parse(value);
  } catch {
    return value;
  }
}

function lines(text: string): string[] {
  return text.match(/[^\n]*\n|[^\n]+$/g) ?? [];
}
