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
  const { Resvg } = await import("@resvg/resvg-js");
  const image = new Resvg(svg, {
    fitTo: { mode: "width", value: Math.round((widthPoints / 72) * dpi) },
    background: "#ffffff",
    font: {
      loadSystemFonts: false,
      fontFiles: Object.values(fontFiles),
      defaultFontFamily: fontFamily,
    },
  }).render();
  return {
    png: withResolution(image.asPng(), dpi),
    width: image.width,
    height: image.height,
    pixels: image.pixels,
  };
}

/** Puts a pHYs chunk (pixels per metre; PNG specification, 11.3.4.3) after the header. */
function withResolution(png: Uint8Array, dpi: number): Uint8Array {
  const perMetre = Math.round(dpi / 0.0254);
  const chunk = Buffer.alloc(21);
  chunk.writeUInt32BE(9, 0);
  chunk.write("pHYs", 4, "latin1");
  chunk.writeUInt32BE(perMetre, 8);
  chunk.writeUInt32BE(perMetre, 12);
  chunk.writeUInt8(1, 16);
  chunk.writeUInt32BE(checksum(chunk.subarray(4, 17)), 17);
  const afterHeader = 8 + 12 + 13;
  return Buffer.concat([png.subarray(0, afterHeader), chunk, png.subarray(afterHeader)]);
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
