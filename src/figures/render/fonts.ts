import { packageBytes, packagePath } from "../../platform/index.js";

/** The two bundled fonts (SIL Open Font License, see fonts/LICENSE.txt), unchanged. */
export const fontFiles = {
  regular: packagePath(fontName("Regular")),
  semibold: packagePath(fontName("Semibold")),
} as const;

/** The width of a line of text in the bundled font. */
export type TextWidth = (text: string, size: number, weight?: string | number | null) => number;

/** Measures text as the bundled fonts will print it, kerning included. */
export async function loadTextWidth(): Promise<TextWidth> {
  const { create } = await import("fontkit");
  const open = (file: string) => {
    const font = create(packageBytes(file));
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
  const regular = open(fontName("Regular"));
  const semibold = open(fontName("Semibold"));
  return (text, size, weight) => size * (isBold(weight) ? semibold : regular)(text);
}

function isBold(weight: string | number | null | undefined): boolean {
  return weight === "bold" || Number(weight) >= 600;
}

function fontName(weight: "Regular" | "Semibold"): string {
  return `src/figures/fonts/SourceSans3-${weight}.ttf`;
}
