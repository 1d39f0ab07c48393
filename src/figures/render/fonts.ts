import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

/** The two bundled fonts (SIL Open Font License, see fonts/LICENSE.txt), unchanged. */
export const fontFiles = {
  regular: fontFile("SourceSans3-Regular.ttf"),
  semibold: fontFile("SourceSans3-Semibold.ttf"),
} as const;

/** The width of a line of text in the bundled font. */
export type TextWidth = (text: string, size: number, weight?: string | number | null) => number;

/** Measures text as the bundled fonts will print it, kerning included. */
export async function loadTextWidth(): Promise<TextWidth> {
  const { create } = await import("fontkit");
  const open = (file: string) => {
    const font = create(readFileSync(file));
    if (!("layout" in font)) throw new Error(`fonts requires a single font in ${file}`);
    const widths = new Map<string, number>();
    return (text: string) => {
      let width = widths.get(text);
      if (width === undefined) {
        width = font.layout(text).advanceWidth / font.unitsPerEm;
        widths.set(text, width);
      }
      return width;
    };
  };
  const regular = open(fontFiles.regular);
  const semibold = open(fontFiles.semibold);
  return (text, size, weight) => size * (isBold(weight) ? semibold : regular)(text);
}

function isBold(weight: string | number | null | undefined): boolean {
  return weight === "bold" || Number(weight) >= 600;
}

function fontFile(name: string): string {
  return fileURLToPath(new URL(`../../../src/figures/fonts/${name}`, import.meta.url));
}
