import type PdfDocument from "pdfkit";
import { bytesOf, pdfParts, registerFonts } from "../../figures/render/pdf.js";
import type { JournalStyle } from "../../protocol/index.js";
import type { FigureSpec } from "../../results/index.js";
import { printSigns } from "../../rows/index.js";
import { fixedDate } from "../../tables/index.js";
import type { Report, ReportBlock } from "../report/report.js";
import { cleaned } from "./cleaned.js";
import { type DrawnFigure, drawingOf } from "./drawnFigure.js";
import { numbered } from "./numbered.js";
import { pdfFigures, type ShownFigure } from "./pdfFigures.js";
import { ink, lineGap, type PdfPages, pdfPages } from "./pdfPages.js";
import { pdfTable } from "./pdfTable.js";
import { leastHeight, type PdfPiece, type TextLook, textHeight, writeText } from "./pdfText.js";

/**
 * A report as PDF on A4: text as text in the bundled fonts, figures as lines, the reading order and
 * the figures' alternative texts kept for screen readers, sections in the outline, pages numbered.
 * Equal reports give equal bytes.
 *
 * @param figures the drawn figures, by name
 */
export async function reportPdf(
  given: Report,
  figures: ReadonlyMap<string, DrawnFigure>,
): Promise<Uint8Array> {
  const report = numbered(cleaned(given));
  const { Document, drawSvg } = await pdfParts();
  const date = new Date(fixedDate);
  const document = new Document({
    size: "A4",
    margin: 56.7,
    info: { Title: report.title, Creator: "Meridional", CreationDate: date, ModDate: date },
    lang: "en-GB",
    tagged: true,
    displayTitle: true,
    pdfVersion: "1.7",
    bufferPages: true,
  });
  registerFonts(document);
  const bytes = bytesOf(document);
  const pages = pdfPages(document);
  const pieces = (blocks: readonly ReportBlock[]): PdfPiece[] => {
    const list: PdfPiece[] = [];
    let run: ShownFigure[] = [];
    for (const block of blocks) {
      if (block.kind === "figure") {
        run.push({ figure: block, drawn: drawingOf(block, figures) });
        continue;
      }
      list.push(...pdfFigures(pages, run, drawSvg), piece(pages, block, report.style));
      run = [];
    }
    return [...list, ...pdfFigures(pages, run, drawSvg)];
  };
  place(pages, [
    textPiece(pages, report.statement, headline),
    textPiece(pages, report.title, titleLook),
    cautionBox(pages, report.caution),
  ]);
  for (const { title, blocks } of report.sections) {
    const content = pieces(blocks);
    const heading = textPiece(pages, title, headingLook);
    pages.ensure(textHeight(pages, title, headingLook) + (content[0]?.least ?? 0));
    document.outline.addItem(title);
    heading.draw();
    place(pages, content);
  }
  numberPages(document, report.title);
  document.end();
  return bytes;
}

const body = { font: "regular", size: 10, above: 0, below: 6 } as const;
const headline = { font: "semibold", size: 10.5, above: 0, below: 6 } as const;
const titleLook = { font: "semibold", size: 17, above: 4, below: 8, type: "H1" } as const;
const headingLook = { font: "semibold", size: 13, above: 16, below: 6, type: "H2" } as const;

function piece(
  pages: PdfPages,
  block: Exclude<ReportBlock, FigureSpec>,
  { numbers, columnMm }: JournalStyle,
): PdfPiece {
  switch (block.kind) {
    case "paragraph":
      return block.emphasis === "caution"
        ? cautionBox(pages, block.text)
        : textPiece(pages, block.text, block.emphasis === "headline" ? headline : body);
    case "list":
      return listPiece(pages, block.items.map(printSigns));
    case "table":
      return pdfTable(pages, block, {
        numbers,
        ...(columnMm === null ? {} : { widest: (columnMm[1] * 72) / 25.4 }),
      });
    case "bench":
    case "rule-bench":
      return textPiece(pages, block.elsewhere, body);
  }
}

function place(pages: PdfPages, pieces: readonly PdfPiece[]): void {
  for (const { least, draw } of pieces) {
    pages.ensure(Math.min(least, pages.height));
    draw();
  }
}

function textPiece(pages: PdfPages, plain: string, look: TextLook): PdfPiece {
  const text = printSigns(plain);
  return { least: leastHeight(pages, text, look), draw: () => writeText(pages, text, look) };
}

/** A text on a tinted ground with a bar beside it. */
function cautionBox(pages: PdfPages, plain: string): PdfPiece {
  const text = printSigns(plain);
  const { document, left, width } = pages;
  const beside = 10;
  const inner = { width: width - 2 * beside, lineGap };
  const height = document.font("regular", 10).heightOfString(text, inner) + 2 * 7;
  return {
    least: height + 10,
    draw: () => {
      const top = document.y;
      pages.decoration(() => {
        document.rect(left, top, width, height).fill("#f1ecdd");
        document.rect(left, top, 3, height).fill(ink);
      });
      pages.element("P", () => {
        document
          .font("regular", 10)
          .fillColor(ink)
          .text(text, left + beside, top + 7, inner);
      });
      document.x = left;
      document.y = top + height + 10;
    },
  };
}

function listPiece(pages: PdfPages, items: readonly string[]): PdfPiece {
  const { document, left } = pages;
  const look: TextLook = {
    font: "regular",
    size: 10,
    above: 0,
    below: 3,
    indent: 14,
    type: "LBody",
  };
  return {
    least: items.slice(0, 3).reduce((sum, item) => sum + textHeight(pages, item, look), 0),
    draw: () => {
      const list = pages.group("L");
      for (const item of items) {
        pages.ensure(leastHeight(pages, item, look));
        const entry = pages.group("LI", list);
        const top = document.y;
        const bullet = () =>
          document
            .font("regular", 10)
            .fillColor(ink)
            .text("•", left + 3, top, { lineBreak: false });
        pages.element("Lbl", bullet, {}, entry);
        document.y = top;
        writeText(pages, item, look, entry);
        entry.end();
      }
      list.end();
      document.y += 5;
    },
  };
}

/** The title and "3 / 12" at the foot of every page. */
function numberPages(document: PdfDocument, title: string): void {
  const { start, count } = document.bufferedPageRange();
  for (let at = 0; at < count; at++) {
    document.switchToPage(start + at);
    const { width, height, margins } = document.page;
    const inner = width - margins.left - margins.right;
    const y = height - margins.bottom + 18;
    // the foot lies below the text, where a line would otherwise go on to a new page
    margins.bottom = 0;
    document.markContent("Artifact", { type: "Pagination" });
    document.font("regular", 8).fillColor("#5c6470");
    document.text(title, margins.left, y, { width: inner - 60, height: 10, ellipsis: true });
    document.text(`${at + 1} / ${count}`, margins.left, y, { width: inner, align: "right" });
    document.endMarkedContent();
  }
}
