import type { FileChild } from "docx";
import type { TableModel } from "../results/index.js";
import { printSigns, unbroken } from "../rows/index.js";
import { columnWidths } from "./columnWidths.js";
import { type ColumnPlace, wholePart } from "./decimalPlaces.js";
import { type PrintedCell, type PrintOptions, printedTable } from "./printedTable.js";
import { captionRuns, type Docx, wordTextWidth } from "./wordFile.js";

/**
 * A table as parts of a Word document: title above, three horizontal rules, footnotes and notes
 * below. A number such as "Table 3" stands before the title as a field that an editor counts anew. The header is repeated where the table goes on to another page; rows are not split.
 */
export function wordTable(
  docx: Docx,
  table: TableModel,
  {
    number = "",
    width = wordTextWidth,
    ...options
  }: PrintOptions & { readonly number?: string; readonly width?: number } = {},
): FileChild[] {
  const { Paragraph, TextRun, Table, TableRow, TableLayoutType, WidthType, BorderStyle } = docx;
  const printed = printedTable(table, options);
  const { title, columns, rows, footnotes, notes } = printed;
  const rule = { style: BorderStyle.SINGLE, size: 8, color: "000000" };
  const none = { style: BorderStyle.NONE, size: 0, color: "auto" };
  const estimated = columnWidths(printed, width, estimatedWidth);
  // room for wider letters, where the page has it
  const room = Math.min(1.25, width / estimated.reduce((sum, one) => sum + one, 0));
  const widths = estimated.map((one) => Math.floor(one * room));
  const below = [
    ...footnotes.map(({ mark, text }) => ({ mark, text: ` ${text}` })),
    ...notes.map((text) => ({ mark: "", text })),
  ];
  const header = new TableRow({
    tableHeader: true,
    cantSplit: true,
    children: columns.map(({ label, mark, align }, at) =>
      cell(docx, label, mark, {
        bold: true,
        right: align === "right",
        indent: 0,
        keepNext: true,
        width: widths[at]!,
        below: rule,
      }),
    ),
  });
  const body = rows.map(
    ({ heading, cells }, row) =>
      new TableRow({
        cantSplit: true,
        children: cells.map(({ text, mark }, at) =>
          cell(docx, text, mark, {
            bold: heading,
            right: columns[at]!.align === "right",
            indent: indentOf(text, columns[at]!),
            // the first row stays with the header, a group's name with its group, a row with its
            // indented parts, the last two rows together and with the notes
            keepNext:
              heading ||
              row === 0 ||
              /^\s/.test(rows[row + 1]?.cells[0]?.text ?? "") ||
              row === rows.length - 2 ||
              (row === rows.length - 1 && below.length > 0),
            width: widths[at]!,
          }),
        ),
      }),
  );
  return [
    new Paragraph({ style: "TableTitle", children: captionRuns(docx, number, title) }),
    new Table({
      width: { size: widths.reduce((sum, width) => sum + width, 0), type: WidthType.DXA },
      columnWidths: widths,
      layout: TableLayoutType.FIXED,
      borders: {
        top: rule,
        bottom: rule,
        left: none,
        right: none,
        insideHorizontal: none,
        insideVertical: none,
      },
      rows: [header, ...body],
    }),
    ...below.map(
      ({ mark, text }, at) =>
        new Paragraph({
          style: "TableNote",
          keepLines: true,
          keepNext: at < below.length - 1,
          ...(at === below.length - 1 ? { spacing: { before: 40, after: 240 } } : {}),
          children: [new TextRun({ text: mark, superScript: true }), new TextRun(printSigns(text))],
        }),
    ),
  ];
}

/** Space beside the text of a cell, in twentieths of a point. */
const beside = { left: 0, right: 160 };

/** A digit of the cells' letters (8.5 points, 0.556 of that wide), and a sign before it (0.584). */
const digit = Math.round(8.5 * 20 * 0.556);
const sign = Math.round(8.5 * 20 * 0.584);

/** How far a number stands in, so that the decimal signs of its column stand below each other; the text stays as it is. */
function indentOf(text: string, { align, whole }: ColumnPlace): number {
  const own = align === "decimal" ? wholePart(text) : "";
  if (own === "") return 0;
  // a dash stands for a number, below the last digit
  const room = (whole - own.length) * digit;
  return Math.max(0, room - (/^[-−<>]/.test(own) && own !== "–" ? sign - digit : 0));
}

/** Of 9-point letters without serifs, by kind and a little generous; in twentieths of a point. */
function estimatedWidth(text: string, bold: boolean): number {
  let width = 0;
  for (const letter of text) {
    width += /[\s.,;:()'|ijl]/.test(letter)
      ? 55
      : /[A-Zmw%\u2212<>=+]/.test(letter)
        ? 128
        : // a number must not break, whatever stands for the font
          /\d/.test(letter)
          ? 116
          : 104;
  }
  return width * (bold ? 1.2 : 1) + beside.right;
}

function cell(
  { Paragraph, TableCell, TextRun, AlignmentType, WidthType }: Docx,
  text: PrintedCell["text"],
  mark: PrintedCell["mark"],
  look: {
    readonly bold: boolean;
    readonly right: boolean;
    readonly indent: number;
    readonly keepNext: boolean;
    readonly width: number;
    readonly below?: { readonly style: "single"; readonly size: number; readonly color: string };
  },
) {
  const runs = [new TextRun({ text: unbroken(printSigns(text)), bold: look.bold })];
  if (mark !== "") runs.push(new TextRun({ text: mark, superScript: true }));
  return new TableCell({
    width: { size: look.width, type: WidthType.DXA },
    margins: beside,
    ...(look.below === undefined ? {} : { borders: { bottom: look.below } }),
    children: [
      new Paragraph({
        style: "TableCell",
        keepNext: look.keepNext,
        alignment: look.right ? AlignmentType.RIGHT : AlignmentType.LEFT,
        ...(look.indent === 0 ? {} : { indent: { left: look.indent } }),
        children: runs,
      }),
    ],
  });
}
