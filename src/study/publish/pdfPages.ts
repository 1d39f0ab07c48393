import type PdfDocument from "pdfkit";
import type { StructureElement } from "pdfkit";

export const ink = "#1c1c1c";

/** Space between lines beyond the font's own, in points. */
export const lineGap = 1.2;

/** A4 pages that fill from top to bottom, with the reading order kept as structure. */
export interface PdfPages {
  readonly document: PdfDocument;
  /** Left edge and width of the text. */
  readonly left: number;
  readonly width: number;
  /** Height left on this page, and of a whole one. */
  room(): number;
  readonly height: number;
  /** Goes to a new page where less than this is left. */
  ensure(height: number): void;
  /** Draws what a screen reader reads as an element, such as P or H1, of `parent`. */
  element(
    type: string,
    draw: () => void,
    options?: { readonly alt?: string; readonly scope?: "Row" | "Column" },
    parent?: StructureElement,
  ): void;
  /** Opens an element that holds others; to be ended by the caller. */
  group(type: string, parent?: StructureElement): StructureElement;
  /** Draws what carries no meaning, such as a line. */
  decoration(draw: () => void): void;
}

export function pdfPages(document: PdfDocument): PdfPages {
  const { width: pageWidth, height: pageHeight, margins } = document.page;
  const left = margins.left;
  const bottom = pageHeight - margins.bottom;
  const root = document.struct("Document", {});
  document.addStructure(root);
  const room = () => bottom - document.y;
  return {
    document,
    left,
    width: pageWidth - margins.left - margins.right,
    height: bottom - margins.top,
    room,
    ensure: (height) => {
      if (height > room() && document.y > margins.top) document.addPage();
    },
    element: (type, draw, options = {}, parent = root) => {
      parent.add(document.struct(type, options, draw));
    },
    group: (type, parent = root) => {
      const element = document.struct(type, {});
      parent.add(element);
      return element;
    },
    decoration: (draw) => {
      document.markContent("Artifact", { type: "Layout" });
      draw();
      document.endMarkedContent();
    },
  };
}
