import type PdfDocument from "pdfkit";
import { pdfLibraries } from "../../platform/index.js";
import { type FigureSpec, InputError } from "../../results/index.js";
import type { Drawing } from "./chartSvg.js";
import { fontFiles } from "./fonts.js";

/** An SVG as one PDF page of the figure's own size; text stays text in the bundled fonts. */
export async function svgToPdf(
  { svg, widthPoints, heightPoints }: Drawing,
  figure: Pick<FigureSpec, "title" | "alt">,
): Promise<Uint8Array> {
  const { Document, drawSvg: draw } = await pdfParts();
  const document = new Document({
    size: [widthPoints, heightPoints],
    margin: 0,
    info: { Title: figure.title, Subject: figure.alt, CreationDate: new Date(0) },
  });
  registerFonts(document);
  const bytes = bytesOf(document);
  draw(document, svg, { x: 0, y: 0, width: widthPoints, height: heightPoints });
  document.end();
  return bytes;
}

/** Makes the bundled fonts known to a document, as "regular" and "semibold". */
export function registerFonts(document: PdfDocument): void {
  document.registerFont("regular", fontFiles.regular);
  document.registerFont("semibold", fontFiles.semibold);
}

/** The bytes of a document; it has to be ended. */
export function bytesOf(document: PdfDocument): Promise<Uint8Array> {
  const parts: Uint8Array[] = [];
  return new Promise((resolve, reject) => {
    document.on("data", (part: Uint8Array) => parts.push(part));
    document.on("end", () => resolve(new Uint8Array(Buffer.concat(parts))));
    document.on("error", reject);
  });
}

/** Where a drawing lies on its page, in points. */
interface Place {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** What makes a document, and what draws an SVG on its page as lines and text, in fonts registered by `registerFonts`. */
export async function pdfParts() {
  const libraries = await pdfLibraries();
  if (libraries === null) {
    throw new InputError("PDF requires Node.js, got a page; print the report from the browser");
  }
  const { Document } = libraries;
  const drawSvg = (document: PdfDocument, svg: string, { x, y, width, height }: Place): void => {
    // the drawing's own millimetres would win over the place; without them the view box fills it
    libraries.drawSvg(document, svg.replace(/ width="[\d.]+mm" height="[\d.]+mm"/, ""), x, y, {
      width,
      height,
      assumePt: true,
      fontCallback: (_family: string, bold: boolean) => (bold ? "semibold" : "regular"),
    });
  };
  return { Document, drawSvg };
}
