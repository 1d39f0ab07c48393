import type { FileChild } from "docx";
import type { TableModel } from "../results/index.js";
import { printSigns, unbroken } from "../rows/index.js";
import { columnWidths } from "./columnWidths.js";
import { type PrintedCell, printedTable } from "./printedTable.js";
import { captionRuns, type Docx, wordTextWidth } from "./wordFile.js";

/**
 * A table as parts of a Word document: title above, three horizontal rules, footnotes and notes
 * below. A number such as "Table 3" stands before the title as a field that an editor counts anew. The header is repeated where the table goes on to another page; rows are not split.
 */
export function wordTable(docx: Docx, table: TableModel, number = ""): FileChild[] {
  const { Paragraph, TextRun, Table, TableRow, TableLayoutType, WidthType, BorderStyle } = docx;
  const printed = printedTable(table);
  const { title, columns, rows, footnotes, notes } = printed;
  const rule = { style: BorderStyle.SINGLE, size: 8, color: "000000" };
  const none = { style: BorderStyle.NONE, size: 0, color: "auto" };
  const estimated = columnWidths(printed, wordTextWidth, estimatedWidth);
  // room for wider letters, where the page has it
  const room = Math.min(1.25, wordTextWidth / estimated.reduce((sum, width) => sum + width, 0));
  const widths = estimated.map((width) => Math.floor(width * room));
  const below = [
    ...footnotes.map(({ mark, text }) => ({ mark, text: ` ${text}` })),
    ...notes.map((text) => ({ mark: "", text })),
  ];
  const header = new TableRow({
    tableHeader: true,
    cantSplit: true,
    children: columns.map(({ label, numeric }, at) =>
      cell(docx, label, "", {
        bold: true,
        right: numeric,
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
            right: columns[at]!.numeric,
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
        children: runs,
      }),
    ],
  });
}
