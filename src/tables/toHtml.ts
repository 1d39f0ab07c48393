import type { TableModel } from "../results/index.js";
import { printSigns } from "../rows/index.js";
import { escapeHtml } from "../text/index.js";
import { type ColumnPlace, wholePart } from "./decimalPlaces.js";
import { type PrintedCell, type PrintOptions, printedTable } from "./printedTable.js";

/**
 * A table as an HTML fragment: a `table` with caption and header cells, and a paragraph for each
 * footnote and note. All text is escaped.
 *
 * @param table a table model; numbers are rounded here by the rules of the tables' README
 * @param options `numbers`: the signs of decimals and thousands
 *
 * @example
 * toHtml({ kind: "table", title: "a < b", columns: [], rows: [], notes: [] }).includes("a &lt; b</caption>") // => true
 */
export function toHtml(table: TableModel, options: PrintOptions = {}): string {
  const { title, columns, rows, footnotes, notes } = printedTable(table, options);
  const side = ({ align }: Pick<ColumnPlace, "align">) =>
    ` style="text-align:${align === "right" ? "right" : "left"}"`;
  const head = columns
    .map(
      (column) =>
        `<th scope="col"${side(column)}>${printed(column.label)}${markHtml(column.mark)}</th>`,
    )
    .join("");
  const body = rows.map(({ heading, cells }) => {
    const [first, ...rest] = cells;
    if (first === undefined) return "";
    const scope = heading ? "rowgroup" : "row";
    const weight = heading ? "" : ";font-weight:normal";
    const others = rest.map((cell, at) => {
      const column = columns[at + 1]!;
      return `<td${side(column)}>${cellHtml(cell, column)}</td>`;
    });
    return `<tr><th scope="${scope}" style="text-align:left${weight}">${cellHtml(first, columns[0]!)}</th>${others.join("")}</tr>\n`;
  });
  const below = [
    ...footnotes.map(({ mark, text }) => `<p>${markHtml(mark)} ${printed(text)}</p>`),
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

function cellHtml({ text, mark }: PrintedCell, { align, whole }: ColumnPlace): string {
  // two spaces before a label are a step in, which a page would swallow
  const indented = text.replace(/^(?: {2})+/, (steps) => "\u2003".repeat(steps.length / 2));
  const number = align === "decimal" ? wholePart(text) : "";
  const rest = printed(indented.slice(number.length)).replace(
    together,
    '<span style="white-space:nowrap">$&</span>',
  );
  return `${number === "" ? "" : wholeHtml(printed(number), whole)}${rest}${markHtml(mark)}`;
}

/** The whole part of a number in a box of the column's width, so that decimal signs stand below each other. */
function wholeHtml(number: string, whole: number): string {
  return `<span style="display:inline-block;min-width:${whole}ch;text-align:right">${number}</span>`;
}

/** A footnote's letter; one who hears the page is told that it is one. */
function markHtml(mark: string): string {
  const note = '<span style="position:absolute;clip-path:inset(50%)">note </span>';
  return mark === "" ? "" : `<sup>${note}${mark}</sup>`;
}

/** An interval, a range of counts, or a number with its unit, is not broken at the end of a line. */
const together =
  /^\d[\d,\u2009]{2,} to \d[\d,\u2009]{2,}$|\([−\d.,·\u2009]+ to [−\d.,·\u2009]+\)|[\d.,·−]+ (?:%|D(?![\w-]))/g;

function printed(text: string): string {
  return escapeHtml(printSigns(text));
}
