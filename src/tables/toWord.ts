import type { TableModel } from "../results/index.js";
import { type PrintedCell, type PrintedTable, printedTable } from "./printedTable.js";

/**
 * Tables as one Word document (.docx): title above, three horizontal rules, footnotes and notes
 * below, every table under the last. Text is text, to be edited as any other.
 *
 * @param tables one table model or several; numbers are rounded here by the rules of the tables'
 *   README
 *
 * @example
 * (await toWord({ kind: "table", title: "T", columns: [{ label: "n", format: "count" }], rows: [{ cells: [12] }], notes: [] })).length > 1000 // => true
 */
export async function toWord(tables: TableModel | readonly TableModel[]): Promise<Uint8Array> {
  const docx = await import("docx");
  const list: readonly TableModel[] = "kind" in tables ? [tables] : tables;
  const document = new docx.Document({
    title: list.map(({ title }) => title).join("; "),
    creator: "",
    styles: { default: { document: { run: { size: 20 } } } },
    sections: [{ children: list.flatMap((table) => parts(docx, printedTable(table))) }],
  });
  return new Uint8Array(await docx.Packer.toBuffer(document));
}

type Docx = typeof import("docx");

function parts(docx: Docx, { title, columns, rows, footnotes, notes }: PrintedTable) {
  const { Paragraph, TextRun, Table, TableRow, WidthType, BorderStyle } = docx;
  const rule = { style: BorderStyle.SINGLE, size: 8, color: "000000" };
  const none = { style: BorderStyle.NONE, size: 0, color: "auto" };
  const numeric = columns.map((column) => column.numeric);
  const header = new TableRow({
    tableHeader: true,
    children: columns.map(({ label }, at) =>
      cell(docx, { text: label, mark: "" }, { bold: true, right: numeric[at]!, below: rule }),
    ),
  });
  const body = rows.map(
    ({ heading, cells }) =>
      new TableRow({
        cantSplit: true,
        children: cells.map((printed, at) =>
          cell(docx, printed, { bold: heading, right: numeric[at]! }),
        ),
      }),
  );
  const small = (runs: readonly { readonly text: string; readonly superScript?: boolean }[]) =>
    new Paragraph({ children: runs.map((run) => new TextRun({ ...run, size: 18 })) });
  return [
    new Paragraph({
      keepNext: true,
      spacing: { before: 240, after: 80 },
      children: [new TextRun({ text: title, bold: true })],
    }),
    new Table({
      width: { size: 100, type: WidthType.PERCENTAGE },
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
    ...footnotes.map(({ mark, text }) =>
      small([{ text: mark, superScript: true }, { text: ` ${text}` }]),
    ),
    ...notes.map((text) => small([{ text }])),
  ];
}

function cell(
  { Paragraph, TableCell, TextRun, AlignmentType }: Docx,
  { text, mark }: Pick<PrintedCell, "text" | "mark">,
  look: {
    readonly bold: boolean;
    readonly right: boolean;
    readonly below?: { readonly style: "single"; readonly size: number; readonly color: string };
  },
) {
  const shown = text.replace(/(^|[( ])-(?=\d)/g, "$1−");
  const runs = [new TextRun({ text: shown, bold: look.bold })];
  if (mark !== "") runs.push(new TextRun({ text: mark, superScript: true }));
  return new TableCell({
    ...(look.below === undefined ? {} : { borders: { bottom: look.below } }),
    children: [
      new Paragraph({
        alignment: look.right ? AlignmentType.RIGHT : AlignmentType.LEFT,
        children: runs,
      }),
    ],
  });
}
