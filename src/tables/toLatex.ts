import type { TableModel } from "../results/index.js";
import { escapeLatex } from "../text/index.js";
import { type PrintedCell, printedTable } from "./printedTable.js";

/**
 * A table as LaTeX in the style of the package booktabs (`\usepackage{booktabs}`): three rules, no
 * vertical lines, footnotes and notes below the table. All text is escaped; nothing but booktabs is
 * needed.
 *
 * @param table a table model; numbers are rounded here by the rules of the tables' README
 *
 * @example
 * toLatex({ kind: "table", title: "50 % & more", columns: [{ label: "n", format: "count" }], rows: [{ cells: [12] }], notes: [] }).includes("\\caption{50 \\% \\& more}") // => true
 */
export function toLatex(table: TableModel): string {
  const { title, columns, rows, footnotes, notes } = printedTable(table);
  const places = columns.map(({ numeric }) => (numeric ? "r" : "l")).join("");
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
    line(columns.map(({ label }) => escapeLatex(label))),
    "  \\midrule",
    ...rows.map(({ heading, cells }) =>
      line(cells.map((cell) => (heading ? bold(cellLatex(cell)) : cellLatex(cell)))),
    ),
    "  \\bottomrule",
    "\\end{tabular}",
    ...below,
    "\\end{table}",
    "",
  ].join("\n");
}

function cellLatex({ text, mark }: PrintedCell): string {
  const escaped = escapeLatex(text).replace(/(^|[( ])-(?=\d)/g, "$1$-$");
  return mark === "" ? escaped : `${escaped}\\textsuperscript{${mark}}`;
}

function bold(text: string): string {
  return text === "" ? "" : `\\textbf{${text}}`;
}
