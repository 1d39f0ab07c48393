import type { StructureElement } from "pdfkit";
import { ink, lineGap, type PdfPages } from "./pdfPages.js";

/** Something to put on a page, and the height that has to be left there to begin it. */
export interface PdfPiece {
  readonly least: number;
  readonly draw: () => void;
}

export interface TextLook {
  readonly font: "regular" | "semibold";
  readonly size: number;
  /** Space above and below. */
  readonly above: number;
  readonly below: number;
  /** Where the text begins, from the left margin, and how wide it is; to the right margin. */
  readonly indent?: number;
  readonly width?: number;
  /** The element of the document's structure; P by default. */
  readonly type?: string;
}

/** Height of a text with the space around it. */
export function textHeight(pages: PdfPages, text: string, look: TextLook): number {
  const { font, size, above, below, indent = 0, width = pages.width - indent } = look;
  const own = pages.document.font(font, size).heightOfString(text, { width, lineGap });
  return own + above + below;
}

/** Writes a text from the current height on; at least two of its lines stay together. */
export function writeText(
  pages: PdfPages,
  text: string,
  look: TextLook,
  parent?: StructureElement,
): void {
  const { document, left } = pages;
  const { font, size, above, below, indent = 0, width = pages.width - indent, type = "P" } = look;
  pages.ensure(leastHeight(pages, text, look));
  document.y += above;
  const draw = () => {
    document
      .font(font, size)
      .fillColor(ink)
      .text(text, left + indent, document.y, { width, lineGap });
  };
  pages.element(type, draw, {}, parent);
  document.x = left;
  document.y += below;
}

/** What is needed to begin a text: two lines of it, or all of a shorter one. */
export function leastHeight(pages: PdfPages, text: string, look: TextLook): number {
  const all = textHeight(pages, text, look);
  const line = pages.document.font(look.font, look.size).currentLineHeight(true) + lineGap;
  return Math.min(all, look.above + 2 * line);
}
