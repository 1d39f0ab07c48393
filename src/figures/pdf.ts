import type { FigureSpec } from "../results/index.js";
import type { Drawing } from "./chartSvg.js";
import { fontFiles } from "./fonts.js";

/** An SVG as one PDF page of the figure's own size; text stays text in the bundled fonts. */
export async function svgToPdf(
  { svg, widthPoints, heightPoints }: Drawing,
  figure: Pick<FigureSpec, "title" | "alt">,
): Promise<Uint8Array> {
  const [{ default: PdfDocument }, { default: drawSvg }] = await Promise.all([
    import("pdfkit"),
    import("svg-to-pdfkit"),
  ]);
  const document = new PdfDocument({
    size: [widthPoints, heightPoints],
    margin: 0,
    info: { Title: figure.title, Subject: figure.alt, CreationDate: new Date(0) },
  });
  const parts: Uint8Array[] = [];
  const done = new Promise<void>((resolve, reject) => {
    document.on("data", (part: Uint8Array) => parts.push(part));
    document.on("end", () => resolve());
    document.on("error", reject);
  });
  document.registerFont("regular", fontFiles.regular);
  document.registerFont("semibold", fontFiles.semibold);
  drawSvg(document, svg, 0, 0, {
    width: widthPoints,
    height: heightPoints,
    assumePt: true,
    fontCallback: (_family: string, bold: boolean) => (bold ? "semibold" : "regular"),
  });
  document.end();
  await done;
  return Buffer.concat(parts);
}
