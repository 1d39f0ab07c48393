import type { TableModel } from "../results/index.js";
import { minusSigns } from "./minusSigns.js";
import { type PrintedCell, printedTable } from "./printedTable.js";

/**
 * A table as an HTML fragment: a `table` with caption and header cells, and a paragraph for each
 * footnote and note. All text is escaped.
 *
 * @param table a table model; numbers are rounded here by the rules of the tables' README
 *
 * @example
 * toHtml({ kind: "table", title: "a < b", columns: [], rows: [], notes: [] }).includes("<caption>a &lt; b</caption>") // => true
 */
export function toHtml(table: TableModel): string {
  const { title, columns, rows, footnotes, notes } = printedTable(table);
  const side = (numeric: boolean) => ` style="text-align:${numeric ? "right" : "left"}"`;
  const head = columns
    .map(({ label, numeric }) => `<th scope="col"${side(numeric)}>${escapeHtml(label)}</th>`)
    .join("");
  const body = rows.map(({ heading, cells }) => {
    const [first, ...rest] = cells;
    if (first === undefined) return "";
    const scope = heading ? "rowgroup" : "row";
    const style = heading ? side(false) : ' style="text-align:left;font-weight:normal"';
    const others = rest.map(
      (cell, at) => `<td${side(columns[at + 1]!.numeric)}>${cellHtml(cell)}</td>`,
    );
    return `<tr><th scope="${scope}"${style}>${cellHtml(first)}</th>${others.join("")}</tr>\n`;
  });
  const below = [
    ...footnotes.map(({ mark, text }) => `<p><sup>${mark}</sup> ${escapeHtml(text)}</p>`),
    ...notes.map((note) => `<p>${escapeHtml(note)}</p>`),
  ];
  const caption = title === "" ? "" : `<caption>${escapeHtml(title)}</caption>\n`;
  return `<div class="table">
<table>
${caption}<thead><tr>${head}</tr></thead>
<tbody>
${body.join("")}</tbody>
</table>
${below.map((line) => `${line}\n`).join("")}</div>
`;
}

function cellHtml({ text, mark }: PrintedCell): string {
  // two spaces before a label are a step in, which a page would swallow
  const indented = text.replace(/^(?: {2})+/, (steps) => "\u2003".repeat(steps.length / 2));
  const escaped = escapeHtml(minusSigns(indented));
  return mark === "" ? escaped : `${escaped}<sup>${mark}</sup>`;
}

function escapeHtml(text: string): string {
  return text
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;")
    .replaceAll('"', "&quot;")
    .replaceAll("'", "&#39;");
}
