import { drawPixels } from "../../platform/index.js";
import { InputError } from "../../results/index.js";
import { fontFamily } from "../theme.js";
import { fontFiles } from "./fonts.js";

/** Pixels of a drawing, four bytes each. */
interface Picture {
  readonly png: Uint8Array;
  readonly width: number;
  readonly height: number;
  readonly pixels: Uint8Array;
}

/** An SVG as PNG in the bundled fonts alone; the dots per inch are written into the file. */
export async function svgToPng(
  svg: string,
  { widthPoints, dpi }: { readonly widthPoints: number; readonly dpi: number },
): Promise<Picture> {
  if (!(dpi >= 36 && dpi <= 2400)) {
    throw new InputError(`render requires a dpi from 36 to 2400, got ${dpi}`);
  }
  const { png, width, height, pixels } = await drawPixels(svg, {
    width: Math.round((widthPoints / 72) * dpi),
    fontFiles: Object.values(fontFiles),
    fontFamily,
  });
  return { png: withResolution(png, dpi), width, height, pixels };
}

/** Puts a pHYs chunk (pixels per metre; PNG specification, 11.3.4.3) after the header. */
function withResolution(png: Uint8Array, dpi: number): Uint8Array {
  const perMetre = Math.round(dpi / 0.0254);
  const chunk = new Uint8Array(21);
  const view = new DataView(chunk.buffer);
  view.setUint32(0, 9);
  chunk.set(new TextEncoder().encode("pHYs"), 4);
  view.setUint32(8, perMetre);
  view.setUint32(12, perMetre);
  view.setUint8(16, 1);
  view.setUint32(17, checksum(chunk.subarray(4, 17)));
  const afterHeader = 8 + 12 + 13;
  const whole = new Uint8Array(png.length + chunk.length);
  whole.set(png.subarray(0, afterHeader));
  whole.set(chunk, afterHeader);
  whole.set(png.subarray(afterHeader), afterHeader + chunk.length);
  return whole;
}

/** The cyclic redundancy code of the PNG specification, annex D. */
function checksum(bytes: Uint8Array): number {
  let code = 0xffffffff;
  for (const byte of bytes) {
    code ^= byte;
    for (let bit = 0; bit < 8; bit++) code = code & 1 ? (code >>> 1) ^ 0xedb88320 : code >>> 1;
  }
  return (code ^ 0xffffffff) >>> 0;
}
