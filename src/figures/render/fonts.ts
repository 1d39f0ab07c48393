import type { Font } from "fontkit";
import { packageBytes, packagePath } from "../../platform/index.js";
import type { Compress } from "./woff.js";

/** The two bundled fonts (SIL Open Font License, see fonts/LICENSE.txt), unchanged. */
export const fontFiles = {
  regular: packagePath(fontName("Regular")),
  semibold: packagePath(fontName("Semibold")),
} as const;

/** The width of a line of text in the bundled font. */
export type TextWidth = (text: string, size: number, weight?: string | number | null) => number;

/** Both fonts, opened, and what makes their files small. */
export interface Fonts {
  readonly regular: Font;
  readonly semibold: Font;
  readonly compress: Compress;
}

let opened: Promise<Fonts> | undefined;

export function loadFonts(): Promise<Fonts> {
  opened ??= openFonts();
  return opened;
}

async function openFonts(): Promise<Fonts> {
  const [{ create }, { zlibSync }] = await Promise.all([import("fontkit"), import("fflate")]);
  const open = (file: string): Font => {
    const font = create(packageBytes(file));
    if (!("layout" in font)) throw new Error(`fonts requires a single font in ${file}`);
    return font;
  };
  return {
    regular: open(fontName("Regular")),
    semibold: open(fontName("Semibold")),
    compress: (bytes) => zlibSync(bytes, { level: 9 }),
  };
}

/** Measures text as the bundled fonts will print it, kerning included. */
export async function loadTextWidth(): Promise<TextWidth> {
  const { regular, semibold } = await loadFonts();
  const [plain, bold] = [regular, semibold].map(measured);
  return (text, size, weight) => size * (isBold(weight) ? bold! : plain!)(text);
}

function measured(font: Font): (text: string) => number {
  const widths = new Map<string, number>();
  return (text) => {
    let width = widths.get(text);
    if (width === undefined) {
      width = font.layout(text).advanceWidth / font.unitsPerEm;
      widths.set(text, width);
    }
    return width;
  };
}

export function isBold(weight: string | number | null | undefined): boolean {
  return weight === "bold" || Number(weight) >= 600;
}

function fontName(weight: "Regular" | "Semibold"): string {
  return `src/figures/fonts/SourceSans3-${weight}.ttf`;
}
