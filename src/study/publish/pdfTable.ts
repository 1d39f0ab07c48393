import type { StructureElement } from "pdfkit";
import type { TableModel } from "../../results/index.js";
import { printSigns } from "../../rows/index.js";
import {
  columnWidths,
  type PrintedTable,
  type PrintOptions,
  printedTable,
  wholePart,
} from "../../tables/index.js";
import { ink, type PdfPages } from "./pdfPages.js";
import { type PdfPiece, textHeight, writeText } from "./pdfText.js";

const size = 8.5;
const lineHeight = 11;
const padding = { beside: 9, above: 2.2 };

interface Cell {
  readonly lines: readonly string[];
  readonly mark: string;
  /** From the column's left edge to the text; -1 for a text that ends at the right edge. */
  readonly indent: number;
}

interface Row {
  readonly bold: boolean;
  /** A part of the row above, such as a share below its count: its text begins with a space. */
  readonly indented: boolean;
  readonly cells: readonly Cell[];
  readonly height: number;
}

/**
 * A table on pages: title, three rules, footnotes and notes. A small one stays on one page; a long
 * one goes on to the next with its header repeated, and never splits a row that fits on a page.
 *
 * @param options `widest`, in points, where a journal's page is narrower than ours
 */
export function pdfTable(
  pages: PdfPages,
  model: TableModel,
  { widest = Infinity, ...options }: PrintOptions & { readonly widest?: number } = {},
): PdfPiece {
  const table = printedTable(model, options);
  const { document, left } = pages;
  const measure = (text: string, bold: boolean) =>
    document.font(bold ? "semibold" : "regular", size).widthOfString(printSigns(text)) +
    padding.beside;
  const widths = columnWidths(table, Math.min(pages.width, widest), measure);
  const total = widths.reduce((sum, width) => sum + width, 0);
  const { header, rows } = rowsOf(table, widths, measure, pages.height);
  const footnotes = table.footnotes.map(({ mark, text }) => `${mark}  ${text}`);
  const notes = [...footnotes, ...table.notes].map(printSigns);
  const noteHeight = notes.reduce((sum, text) => sum + textHeight(pages, text, noteLook), 0);
  const keptNotes = Math.min(noteHeight, pages.height / 5);
  const height = (list: readonly Row[]) => list.reduce((sum, row) => sum + row.height, 0);
  const titleHeight = textHeight(pages, table.title, titleLook);
  const whole = titleHeight + header.height + height(rows) + noteHeight;
  const start = titleHeight + header.height + height(rows.slice(0, 3));

  const rule = (thickness: number) =>
    pages.decoration(() => {
      document
        .lineWidth(thickness)
        .moveTo(left, document.y)
        .lineTo(left + total - padding.beside, document.y)
        .stroke(ink);
    });
  const drawCell = ({ lines, mark, indent }: Cell, at: number, bold: boolean, top: number) => {
    const x = left + widths.slice(0, at).reduce((sum, width) => sum + width, 0);
    lines.forEach((line, index) => {
      const y = top + padding.above + index * lineHeight;
      const last = index === lines.length - 1 ? mark : "";
      const beside = markWidth(last);
      document.font(bold ? "semibold" : "regular", size).fillColor(ink);
      const width = document.widthOfString(line);
      const from = indent < 0 ? x + widths[at]! - padding.beside - width - beside : x + indent;
      document.text(line, from, y, { lineBreak: false });
      if (last !== "") {
        document
          .font("regular", size * 0.7)
          .text(last, from + width + 1, y - 1, { lineBreak: false });
      }
    });
  };
  const markWidth = (mark: string) =>
    mark === "" ? 0 : document.font("regular", size * 0.7).widthOfString(mark) + 1;
  const drawRow = (row: Row, group: StructureElement | null, isHeader: boolean) => {
    const top = document.y;
    const parent = group === null ? null : pages.group("TR", group);
    row.cells.forEach((cell, at) => {
      const draw = () => drawCell(cell, at, row.bold, top);
      if (parent === null) pages.decoration(draw);
      else if (isHeader) pages.element("TH", draw, { scope: "Column" }, parent);
      else if (at === 0) pages.element("TH", draw, { scope: "Row" }, parent);
      else pages.element("TD", draw, {}, parent);
    });
    parent?.end();
    document.x = left;
    document.y = top + row.height;
  };
  const drawHeader = (group: StructureElement | null) => {
    rule(0.9);
    drawRow(header, group, true);
    rule(0.5);
  };

  return {
    least: whole <= pages.height * 0.45 ? whole : start,
    draw: () => {
      writeText(pages, table.title, titleLook);
      const group = pages.group("Table");
      drawHeader(group);
      rows.forEach((row, at) => {
        // the last row goes over with the one before it, and with notes; a group's name with its group
        const next = rows[at + 1];
        const together = next !== undefined && (row.bold || at + 2 === rows.length);
        const parts = row.indented ? 0 : height(indentedAfter(rows, at));
        const after = together ? next.height : next === undefined ? keptNotes : parts;
        const wanted = row.height + after;
        if (wanted > pages.room() && (at > 0 || row.height > pages.room())) {
          document.addPage();
          drawHeader(null);
        }
        drawRow(row, group, false);
      });
      rule(0.9);
      group.end();
      document.y += 3;
      for (const text of notes) writeText(pages, text, noteLook);
      document.y += 8;
    },
  };
}

const titleLook = { font: "semibold", size: 9.5, above: 8, below: 3 } as const;
const noteLook = { font: "regular", size: 8, above: 1, below: 1 } as const;

/** Rows with their text broken into lines; one higher than a page becomes several. */
function rowsOf(
  { columns, rows }: PrintedTable,
  widths: readonly number[],
  measure: (text: string, bold: boolean) => number,
  pageHeight: number,
): { header: Row; rows: Row[] } {
  const wide = (text: string, bold: boolean) => measure(text, bold) - padding.beside;
  const wholes = columns.map(({ align }, at) =>
    Math.max(
      0,
      ...rows.flatMap(({ cells, heading }) =>
        align === "decimal" ? wide(wholePart(cells[at]!.text), heading) : [],
      ),
    ),
  );
  const rowOf = (
    bold: boolean,
    cells: readonly { readonly text: string; readonly mark: string }[],
    isHeader = false,
  ): Row => {
    const broken = cells.map(({ text, mark }, at) => {
      const { align } = columns[at]!;
      const number = align === "decimal" && !isHeader ? wholePart(text) : "";
      const indent = number === "" ? 0 : wholes[at]! - wide(number, bold);
      const lines = linesOf(printSigns(text), widths[at]! - indent, (part) => measure(part, bold));
      return { lines, mark, indent: align === "right" ? -1 : indent };
    });
    const indented = /^\s/.test(cells[0]?.text ?? "");
    return { bold, indented, cells: broken, height: heightOf(broken) };
  };
  const header = rowOf(
    true,
    columns.map(({ label, mark }) => ({ text: label, mark })),
    true,
  );
  const most = Math.max(1, Math.floor((pageHeight - header.height) / lineHeight) - 2);
  return {
    header,
    rows: rows.flatMap(({ heading, cells }) => partsOf(rowOf(heading, cells), most)),
  };
}

/** The indented rows that follow a row. */
function indentedAfter(rows: readonly Row[], at: number): readonly Row[] {
  const end = rows.findIndex((row, index) => index > at && !row.indented);
  return rows.slice(at + 1, end < 0 ? rows.length : end);
}

function heightOf(cells: readonly Cell[]): number {
  return Math.max(1, ...cells.map(({ lines }) => lines.length)) * lineHeight + 2 * padding.above;
}

function partsOf(row: Row, most: number): Row[] {
  const lines = Math.max(...row.cells.map((cell) => cell.lines.length));
  if (lines <= most) return [row];
  return Array.from({ length: Math.ceil(lines / most) }, (_, part) => {
    const cells = row.cells.map((cell) => {
      const own = cell.lines.slice(part * most, (part + 1) * most);
      return { ...cell, lines: own, mark: cell.lines.length > (part + 1) * most ? "" : cell.mark };
    });
    return { ...row, cells, height: heightOf(cells) };
  });
}

/** Lines no wider than the column, broken at spaces; a word that is too wide is broken anywhere. */
function linesOf(text: string, width: number, measure: (text: string) => number): string[] {
  // a hair wider than the column: its width came from this very text
  const fits = (line: string) => measure(line) <= width + 0.01;
  if (fits(text)) return [text];
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(/\s+/)) {
    const longer = line === "" ? word : `${line} ${word}`;
    if (fits(longer)) {
      line = longer;
      continue;
    }
    if (line !== "") lines.push(line);
    line = "";
    for (const letter of word) {
      if (line !== "" && !fits(line + letter)) {
        lines.push(line);
        line = "";
      }
      line += letter;
    }
  }
  lines.push(line);
  return lines;
}
