// The parts used here of three libraries that come without types.

declare module "fontkit" {
  interface Glyph {
    readonly id: number;
    readonly advanceWidth: number;
  }
  export interface Font {
    readonly unitsPerEm: number;
    readonly copyright: string;
    layout(text: string): {
      readonly advanceWidth: number;
      readonly glyphs: readonly Glyph[];
      readonly positions: readonly { readonly xAdvance: number }[];
    };
    hasGlyphForCodePoint(point: number): boolean;
    glyphForCodePoint(point: number): Glyph;
    createSubset(): { includeGlyph(id: number): number; encode(): Uint8Array };
  }
  export function create(file: Uint8Array): Font | { readonly fonts: readonly Font[] };
}

declare module "pdfkit" {
  /** An element of the document's logical structure, such as a paragraph. */
  export interface StructureElement {
    add(child: StructureElement): this;
    end(): void;
  }
  interface TextOptions {
    readonly width?: number;
    readonly lineGap?: number;
    readonly lineBreak?: boolean;
    readonly indent?: number;
    readonly align?: "left" | "right";
    readonly height?: number;
    readonly ellipsis?: boolean;
  }
  export default class PdfDocument {
    constructor(options: {
      readonly size: "A4" | readonly [number, number];
      readonly margin: number;
      readonly info: { readonly [key: string]: string | Date };
      readonly lang?: string;
      readonly tagged?: boolean;
      readonly displayTitle?: boolean;
      readonly pdfVersion?: "1.7";
      readonly bufferPages?: boolean;
    });
    x: number;
    y: number;
    readonly page: {
      readonly width: number;
      readonly height: number;
      readonly margins: { top: number; right: number; bottom: number; left: number };
    };
    readonly outline: { addItem(title: string): void };
    on(event: "data", listener: (part: Uint8Array) => void): this;
    on(event: "end", listener: () => void): this;
    on(event: "error", listener: (error: Error) => void): this;
    registerFont(name: string, file: string): this;
    font(name: string, size: number): this;
    text(text: string, x: number, y: number, options?: TextOptions): this;
    heightOfString(text: string, options?: TextOptions): number;
    widthOfString(text: string): number;
    currentLineHeight(includeGap?: boolean): number;
    addPage(): this;
    continueOnNewPage(): this;
    bufferedPageRange(): { readonly start: number; readonly count: number };
    switchToPage(page: number): unknown;
    rect(x: number, y: number, width: number, height: number): this;
    moveTo(x: number, y: number): this;
    lineTo(x: number, y: number): this;
    lineWidth(width: number): this;
    fillColor(colour: string): this;
    fill(colour: string): this;
    stroke(colour: string): this;
    struct(
      type: string,
      options: { readonly alt?: string; readonly scope?: "Row" | "Column" },
      draw?: () => void,
    ): StructureElement;
    addStructure(element: StructureElement): this;
    markContent(tag: "Artifact", options?: { readonly type: "Pagination" | "Layout" }): this;
    endMarkedContent(): this;
    end(): void;
  }
}

declare module "svg-to-pdfkit" {
  import type PdfDocument from "pdfkit";
  export default function drawSvg(
    document: PdfDocument,
    svg: string,
    x: number,
    y: number,
    options: {
      readonly width: number;
      readonly height: number;
      readonly assumePt: boolean;
      readonly fontCallback: (family: string, bold: boolean) => string;
    },
  ): void;
}
