import { loadTextWidth, svgToPng } from "../../figures/index.js";
import { bytesOf, pdfParts, registerFonts } from "../../figures/render/pdf.js";
import { fixedDate } from "../../tables/index.js";
import { escapeHtml } from "../../text/index.js";
import type { Report } from "../report/report.js";
import { cleaned } from "./cleaned.js";
import type { DrawnFigure } from "./drawnFigure.js";
import { ink } from "./pdfPages.js";
import { type PageFigure, type SummaryPage, summaryPage } from "./summaryPage.js";

const ground = "#f1ecdd";

/** The first page of a report, laid out once for both its forms. */
export async function pageOfSummary(
  report: Report,
  figures: ReadonlyMap<string, DrawnFigure>,
): Promise<SummaryPage> {
  const width = await loadTextWidth();
  return summaryPage(cleaned(report), figures, (text, size, bold) =>
    width(text, size, bold ? 600 : 400),
  );
}

/** As a picture of 200 dots an inch. */
export async function summaryPng(page: SummaryPage): Promise<Uint8Array> {
  const { png } = await svgToPng(summarySvg(page), { widthPoints: page.width, dpi: 200 });
  return png;
}

function summarySvg({ width, height, items }: SummaryPage): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" font-family="'Source Sans 3', sans-serif" fill="${ink}"><rect width="${width}" height="${height}" fill="#ffffff"/>${items.map(itemSvg).join("")}</svg>`;
}

function itemSvg(item: SummaryPage["items"][number]): string {
  if (item.kind === "figure") return placed(item.svg, item);
  if (item.kind === "ground") {
    return `<rect x="${item.x}" y="${item.y}" width="${item.width}" height="${item.height}" fill="${ground}"/>`;
  }
  const { x, y, size, bold, lineHeight, lines } = item;
  const look = `x="${x}" font-size="${size}" font-weight="${bold ? 600 : 400}"`;
  return lines
    .map((line, at) => `<text ${look} y="${y + at * lineHeight}">${escapeHtml(line)}</text>`)
    .join("");
}

/** A drawing at its place: its own size gives way. */
function placed(
  svg: string,
  { x, y, width, height }: Omit<PageFigure, "kind" | "svg" | "alt">,
): string {
  return svg.replace(
    / width="[\d.]+mm" height="[\d.]+mm"/,
    ` x="${x}" y="${y}" width="${width}" height="${height}"`,
  );
}

/** As one page of PDF: text as text, in reading order, figures with their alternative texts. */
export async function summaryPdf({
  title,
  width,
  height,
  items,
}: SummaryPage): Promise<Uint8Array> {
  const { Document, drawSvg } = await pdfParts();
  const date = new Date(fixedDate);
  const document = new Document({
    size: [width, height],
    margin: 0,
    info: { Title: title, Creator: "Meridional", CreationDate: date, ModDate: date },
    lang: "en-GB",
    tagged: true,
    displayTitle: true,
    pdfVersion: "1.7",
  });
  registerFonts(document);
  const bytes = bytesOf(document);
  const root = document.struct("Document", {});
  document.addStructure(root);
  for (const item of items) {
    if (item.kind === "ground") {
      document.markContent("Artifact", { type: "Layout" });
      document.rect(item.x, item.y, item.width, item.height).fill(ground);
      document.endMarkedContent();
    } else if (item.kind === "figure") {
      const draw = () => drawSvg(document, item.svg, item);
      root.add(document.struct("Figure", { alt: item.alt }, draw));
    } else {
      const draw = () => {
        document.font(item.bold ? "semibold" : "regular", item.size).fillColor(ink);
        for (const [at, line] of item.lines.entries()) {
          const y = item.y + at * item.lineHeight;
          // the types of the library leave the base line out
          document.text(line, item.x, y, { lineBreak: false, ...{ baseline: "alphabetic" } });
        }
      };
      root.add(document.struct(item.type, {}, draw));
    }
  }
  document.end();
  return bytes;
}
