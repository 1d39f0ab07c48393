import type { TableModel } from "../results/index.js";
import { escapeMarkdown, escapeMarkdownCell } from "../text/index.js";
import { type PrintOptions, printedTable } from "./printedTable.js";

/**
 * A table as Markdown: title in bold, pipes, numbers to the right, footnotes as letters.
 *
 * @param table a table model; numbers are rounded here by the rules of the tables' README
 * @param options `numbers`: the signs of decimals and thousands
 *
 * @example
 * toMarkdown({ kind: "table", title: "Bias", columns: [{ label: "eye", format: "text" }, { label: "bias", unit: "D", format: "dioptres" }], rows: [{ cells: ["right", -0.2066] }], notes: [] }).includes("| right | -0.21 |") // => true
 */
export function toMarkdown(table: TableModel, options: PrintOptions = {}): string {
  const { title, columns, rows, footnotes, notes } = printedTable(table, options);
  const row = (cells: readonly string[]) => `| ${cells.join(" | ")} |`;
  const lines = [
    row(columns.map(({ label, mark }) => marked(escapeMarkdownCell(label), mark))),
    row(columns.map(({ align }) => (align === "left" ? "---" : "---:"))),
    ...rows.map(({ heading, cells }) =>
      row(
        cells.map(({ text, mark }) => {
          const escaped = escapeMarkdownCell(text);
          const shown = heading && escaped !== "" ? `**${escaped}**` : escaped;
          return marked(shown, mark);
        }),
      ),
    ),
  ];
  const below = [
    ...footnotes.map(({ mark, text }) => `(${mark}) ${escapeMarkdown(text)}`),
    ...notes.map(escapeMarkdown),
  ];
  const head = title === "" ? [] : [`**${escapeMarkdown(title)}**`, ""];
  const foot = below.flatMap((line) => ["", line]);
  return `${[...head, ...lines, ...foot].join("\n")}\n`;
}

const marked = (text: string, mark: string) => (mark === "" ? text : `${text} (${mark})`);
