import type { TableModel } from "../results/index.js";
import { printSigns } from "../rows/index.js";
import { escapeHtml } from "../text/index.js";
import { type PrintedCell, printedTable } from "./printedTable.js";

/**
 * A table as an HTML fragment: a `table` with caption and header cells, and a paragraph for each
 * footnote and note. All text is escaped.
 *
 * @param table a table model; numbers are rounded here by the rules of the tables' README
 *
 * @example
 * toHtml({ kind: "table", title: "a < b", columns: [], rows: [], notes: [] }).includes("a &lt; b</caption>") // => true
 */
export function toHtml(table: TableModel): string {
  const { title, columns, rows, footnotes, notes } = printedTable(table);
  const side = (numeric: boolean) => ` style="text-align:${numeric ? "right" : "left"}"`;
  const head = columns
    .map(({ label, numeric }) => `<th scope="col"${side(numeric)}>${printed(label)}</th>`)
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
    ...footnotes.map(({ mark, text }) => `<p><sup>${mark}</sup> ${printed(text)}</p>`),
    ...notes.map((note) => `<p>${printed(note)}</p>`),
  ];
  const caption =
    title === ""
      ? ""
      : `<caption style="text-align:left;min-width:min(22em,90vw)">${printed(title)}</caption>\n`;
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
  const escaped = printed(indented).replace(together, '<span style="white-space:nowrap">$&</span>');
  return mark === "" ? escaped : `${escaped}<sup>${mark}</sup>`;
}

/** An interval, a range of counts, or a number with its unit, is not broken at the end of a line. */
const together = /^\d[\d,]{2,} to \d[\d,]{2,}$|\([−\d.,]+ to [−\d.,]+\)|[\d.,−]+ (?:%|D(?![\w-]))/g;

function printed(text: string): string {
  return escapeHtml(printSigns(text));
}
