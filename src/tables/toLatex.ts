import type { TableModel } from "../results/index.js";
import { escapeLatex } from "../text/index.js";
import { type ColumnPlace, wholePart } from "./decimalPlaces.js";
import { type PrintedCell, type PrintOptions, printedTable } from "./printedTable.js";

/**
 * A table as LaTeX in the style of the package booktabs (`\usepackage{booktabs}`): three rules, no
 * vertical lines, footnotes and notes below the table. All text is escaped; nothing but booktabs is
 * needed.
 *
 * @param table a table model; numbers are rounded here by the rules of the tables' README
 * @param options `numbers`: the signs of decimals and thousands
 *
 * @example
 * toLatex({ kind: "table", title: "50 % & more", columns: [{ label: "n", format: "count" }], rows: [{ cells: [12] }], notes: [] }).includes("\\caption{50 \\% \\& more}") // => true
 */
export function toLatex(table: TableModel, options: PrintOptions = {}): string {
  const { title, columns, rows, footnotes, notes } = printedTable(table, options);
  const places = columns.map(({ align }) => (align === "right" ? "r" : "l")).join("");
  const line = (cells: readonly string[]) => `  ${cells.join(" & ")} \\\\`;
  const below = [
    ...footnotes.map(({ mark, text }) => `\\textsuperscript{${mark}} ${escapeLatex(text)}`),
    ...notes.map(escapeLatex),
  ].map((note) => `\\par\\footnotesize ${note}`);
  return [
    "\\begin{table}",
    "\\centering",
    ...(title === "" ? [] : [`\\caption{${escapeLatex(title)}}`]),
    `\\begin{tabular}{${places}}`,
    "  \\toprule",
    line(columns.map(({ label, mark }) => marked(escapeLatex(label), mark))),
    "  \\midrule",
    ...rows.map(({ heading, cells }) =>
      line(
        cells.map((cell, at) => {
          const text = cellLatex(cell, columns[at]!);
          return heading ? bold(text) : text;
        }),
      ),
    ),
    "  \\bottomrule",
    "\\end{tabular}",
    ...below,
    "\\end{table}",
    "",
  ].join("\n");
}

function cellLatex({ text, mark }: PrintedCell, { align, whole }: ColumnPlace): string {
  const number = align === "decimal" ? wholePart(text) : "";
  // as wide as the digits that other rows have more
  const room = number === "" ? 0 : whole - number.length;
  const pad = room === 0 ? "" : `\\phantom{${"0".repeat(room)}}`;
  return marked(`${pad}${escapeLatex(text).replace(/(^|[( ])-(?=\d)/g, "$1$-$")}`, mark);
}

const marked = (text: string, mark: string) =>
  mark === "" ? text : `${text}\\textsuperscript{${mark}}`;

function bold(text: string): string {
  return text === "" ? "" : `\\textbf{${text}}`;
}
