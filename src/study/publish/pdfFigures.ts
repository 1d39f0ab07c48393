import type { pdfParts } from "../../figures/render/pdf.js";
import type { FigureSpec } from "../../results/index.js";
import { printSigns } from "../../rows/index.js";
import type { DrawnFigure } from "./drawnFigure.js";
import type { PdfPages } from "./pdfPages.js";
import { type PdfPiece, type TextLook, textHeight, writeText } from "./pdfText.js";

/** A figure and its drawing. */
export interface ShownFigure {
  readonly figure: FigureSpec;
  readonly drawn: DrawnFigure;
}

const gap = 14;
const above = 8;

/**
 * Figures that follow one another, with their captions: two of a journal column's width side by
 * side, others alone, at the size they were drawn for or at the width that is there.
 */
export function pdfFigures(
  pages: PdfPages,
  figures: readonly ShownFigure[],
  drawSvg: Awaited<ReturnType<typeof pdfParts>>["drawSvg"],
): PdfPiece[] {
  const half = (pages.width - gap) / 2;
  const isNarrow = (shown?: ShownFigure) =>
    shown !== undefined && shown.drawn.widthPoints <= half * 1.05;
  const rows: ShownFigure[][] = [];
  for (let at = 0; at < figures.length; at++) {
    const pair = isNarrow(figures[at]) && isNarrow(figures[at + 1]);
    rows.push(figures.slice(at, pair ? at + 2 : at + 1));
    if (pair) at++;
  }
  return rows.map((row) => figureRow(pages, row, row.length === 2 ? half : pages.width, drawSvg));
}

function figureRow(
  pages: PdfPages,
  row: readonly ShownFigure[],
  column: number,
  drawSvg: Awaited<ReturnType<typeof pdfParts>>["drawSvg"],
): PdfPiece {
  const { document, left } = pages;
  const cells = row.map(({ figure, drawn }, at) => {
    const { svg, widthPoints, heightPoints } = drawn;
    const scale = Math.min(1, column / widthPoints);
    const look: TextLook = { ...captionLook, indent: at * (column + gap), width: column };
    return {
      svg,
      alt: figure.alt,
      width: scale * widthPoints,
      height: scale * heightPoints,
      caption: printSigns(figure.caption),
      look,
    };
  });
  const tallest = Math.max(...cells.map(({ height }) => height));
  const captions = Math.max(...cells.map(({ caption, look }) => textHeight(pages, caption, look)));
  return {
    least: above + tallest + captions,
    draw: () => {
      const top = document.y + above;
      for (const { svg, alt, width, height, caption, look } of cells) {
        // the lower edges of neighbours, and with them their captions, stand at one height
        const place = { x: left + (look.indent ?? 0), y: top + tallest - height, width, height };
        pages.element("Figure", () => drawSvg(document, svg, place), { alt });
        document.x = left;
        document.y = top + tallest;
        writeText(pages, caption, look);
      }
      document.y = top + tallest + captions;
    },
  };
}

const captionLook = { font: "regular", size: 8.5, above: 2, below: 14, type: "Caption" } as const;
