// The parts used here of three libraries that come without types.

declare module "fontkit" {
  interface Font {
    readonly unitsPerEm: number;
    layout(text: string): { readonly advanceWidth: number };
  }
  export function create(file: Uint8Array): Font | { readonly fonts: readonly Font[] };
}

declare module "pdfkit" {
  export default class PdfDocument {
    constructor(options: {
      readonly size: readonly [number, number];
      readonly margin: number;
      readonly info: { readonly [key: string]: string | Date };
    });
    on(event: "data", listener: (part: Uint8Array) => void): this;
    on(event: "end", listener: () => void): this;
    on(event: "error", listener: (error: Error) => void): this;
    registerFont(name: string, file: string): this;
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
