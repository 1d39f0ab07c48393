import type { FileChild } from "docx";
import { printSigns } from "../rows/index.js";
import { plainTexts } from "../text/index.js";

/** The date that every written document carries, the earliest that an entry of a ZIP file can. */
export const fixedDate = "1980-01-01T00:00:00Z";

/** What fits between the margins of a page, in twentieths of a point; margins of 20 mm on A4. */
const wordPage = { width: 11906, height: 16838, margin: 1134 } as const;
export const wordTextWidth = wordPage.width - 2 * wordPage.margin;

/** A Word document; equal content gives equal bytes. */
export async function wordFile(content: {
  readonly title: string;
  readonly children: readonly FileChild[];
  /** Printed at the foot of every page, beside the page's number. */
  readonly footer?: string;
}): Promise<Uint8Array> {
  const docx = await import("docx");
  const { width, height, margin } = wordPage;
  const { title, children, footer } = plainTexts(content, ["children"]);
  const document = new docx.Document({
    title,
    styles,
    sections: [
      {
        properties: {
          page: {
            size: { width, height },
            margin: { top: margin, right: margin, bottom: margin, left: margin },
          },
        },
        ...(footer === undefined ? {} : { footers: { default: pageFooter(docx, footer) } }),
        children: [...children],
      },
    ],
  });
  const properties = { path: "docProps/core.xml", data: coreProperties(title) };
  const written = await docx.Packer.toArrayBuffer(document, undefined, [properties]);
  return withFixedDates(new Uint8Array(written));
}

const styles = {
  default: {
    document: {
      run: { font: "Arial", size: 20, language: { value: "en-GB" } },
      paragraph: { spacing: { after: 120, line: 264, lineRule: "auto" } },
    },
    title: {
      run: { bold: true, size: 34 },
      paragraph: { spacing: { before: 60, after: 160, line: 264, lineRule: "auto" } },
    },
    heading1: {
      run: { bold: true, size: 26 },
      paragraph: {
        keepNext: true,
        spacing: { before: 360, after: 120, line: 264, lineRule: "auto" },
      },
    },
  },
  paragraphStyles: [
    {
      id: "Caption",
      name: "caption",
      basedOn: "Normal",
    },
    {
      id: "TableTitle",
      name: "Table title",
      basedOn: "Caption",
      run: { bold: true },
      paragraph: { keepNext: true, spacing: { before: 240, after: 80 } },
    },
    {
      id: "TableCell",
      name: "Table cell",
      basedOn: "Normal",
      run: { size: 17 },
      paragraph: { spacing: { before: 30, after: 30, line: 240, lineRule: "auto" } },
    },
    {
      id: "TableNote",
      name: "Table note",
      basedOn: "Normal",
      run: { size: 17 },
      paragraph: { spacing: { before: 40, after: 40, line: 240, lineRule: "auto" } },
    },
    {
      id: "FigureCaption",
      name: "Figure caption",
      basedOn: "Caption",
      run: { size: 17 },
      paragraph: { spacing: { before: 40, after: 240, line: 240, lineRule: "auto" } },
    },
  ],
} satisfies ConstructorParameters<Docx["Document"]>[0]["styles"];

/**
 * A caption: its number as a sequence field, which an editor counts anew where tables or figures come and
 * go, and which lists of tables and cross-references go by; then its words.
 *
 * @param number such as "Table 3", or "" for none
 */
export function captionRuns({ SimpleField, TextRun }: Docx, number: string, words: string) {
  const text = printSigns(words);
  const [kind, at] = number.split(" ");
  if (kind === undefined || at === undefined) return [new TextRun(text)];
  return [
    new TextRun(`${kind} `),
    new SimpleField(` SEQ ${kind} \\* ARABIC `, at),
    new TextRun(`. ${text}`),
  ];
}

function pageFooter({ Footer, Paragraph, TextRun, PageNumber, TabStopType }: Docx, text: string) {
  return new Footer({
    children: [
      new Paragraph({
        tabStops: [{ type: TabStopType.RIGHT, position: wordTextWidth }],
        children: [
          new TextRun({ text, size: 16 }),
          new TextRun({
            size: 16,
            children: ["\t", PageNumber.CURRENT, " / ", PageNumber.TOTAL_PAGES],
          }),
        ],
      }),
    ],
  });
}

export type Docx = typeof import("docx");

/** Core properties (ISO/IEC 29500-2, annex D) with the fixed date in place of the clock's. */
function coreProperties(title: string): string {
  const escaped = title.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;");
  const date = (name: string) =>
    `<dcterms:${name} xsi:type="dcterms:W3CDTF">${fixedDate}</dcterms:${name}>`;
  return `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<cp:coreProperties xmlns:cp="http://schemas.openxmlformats.org/package/2006/metadata/core-properties" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:dcterms="http://purl.org/dc/terms/" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance"><dc:title>${escaped}</dc:title><dc:language>en-GB</dc:language>${date("created")}${date("modified")}</cp:coreProperties>`;
}

/** "PK", 5, 6 as a number (APPNOTE.TXT, 4.3.16). */
const endOfDirectory = 0x0605_4b50;

/**
 * The same ZIP file with the date of every entry set to 1 January 1980, in its central directory
 * and before its content (APPNOTE.TXT of the ZIP format, 4.3.7, 4.3.12 and 4.3.16).
 */
function withFixedDates(zip: Uint8Array): Uint8Array {
  const bytes = zip.slice();
  const view = new DataView(bytes.buffer);
  let end = bytes.length - 22;
  while (view.getUint32(end, true) !== endOfDirectory) end--;
  const entries = view.getUint16(end + 10, true);
  let at = view.getUint32(end + 16, true);
  for (let entry = 0; entry < entries; entry++) {
    const content = view.getUint32(at + 42, true);
    // time 00:00:00, then the date: day 1, month 1, year 0 after 1980
    view.setUint32(at + 12, 0x0021_0000, true);
    view.setUint32(content + 10, 0x0021_0000, true);
    at += 46 + [28, 30, 32].reduce((sum, part) => sum + view.getUint16(at + part, true), 0);
  }
  return bytes;
}
