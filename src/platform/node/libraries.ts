// Libraries that another machine takes another build of, or does without. Each is loaded at its first use.
import { createRequire } from "node:module";
import type { z } from "zod";

const require = createRequire(import.meta.url);

/** The schema library, loaded when it is first asked for. */
export function schemaLibrary(): typeof z {
  return require("zod").z;
}

type Distribution = (...parameters: number[]) => number;

/** A distribution function of @stdlib, such as "normal-cdf": together they are some 200 small files. */
export function distribution(name: string): Distribution {
  return require(`@stdlib/stats-base-dists-${name}`) as Distribution;
}

/** @internal */
interface ChartLibraries {
  readonly vega: typeof import("vega");
  readonly vegaLite: typeof import("vega-lite");
  /** What evaluates expressions; undefined where they are compiled. */
  readonly interpreter: unknown;
}

/** @internal */
export async function chartLibraries(): Promise<ChartLibraries> {
  const [vega, vegaLite] = await Promise.all([import("vega"), import("vega-lite")]);
  return { vega, vegaLite, interpreter: undefined };
}

/** Draws an SVG as pixels, in the fonts of these files alone. */
export async function drawPixels(
  svg: string,
  look: {
    readonly width: number;
    readonly fontFiles: readonly string[];
    readonly fontFamily: string;
  },
): Promise<{
  readonly png: Uint8Array;
  readonly width: number;
  readonly height: number;
  readonly pixels: Uint8Array;
}> {
  const { Resvg } = await import("@resvg/resvg-js");
  const image = new Resvg(svg, {
    fitTo: { mode: "width", value: look.width },
    background: "#ffffff",
    font: {
      loadSystemFonts: false,
      fontFiles: [...look.fontFiles],
      defaultFontFamily: look.fontFamily,
    },
  }).render();
  return { png: image.asPng(), width: image.width, height: image.height, pixels: image.pixels };
}

/** What writes PDF; null where nothing does. @internal */
export async function pdfLibraries() {
  const [{ default: Document }, { default: drawSvg }] = await Promise.all([
    import("pdfkit"),
    import("svg-to-pdfkit"),
  ]);
  return { Document, drawSvg };
}

/** The database that scans large text and Parquet; null where there is none. @internal */
export async function databaseLibrary() {
  return await import("@duckdb/node-api");
}

/** Whether this machine has the database, and what writes PDF. */
export const has = { database: true, pdf: true };

/** The sheets of a workbook, with their cells. @internal @throws where it is none */
export async function readWorkbook(path: string) {
  const { default: read } = await import("read-excel-file/node");
  return await read(path);
}

/** A workbook's bytes. @internal */
export async function writeWorkbook(
  sheets: Parameters<typeof import("write-excel-file/node")["default"]>[0],
): Promise<Uint8Array> {
  const { default: write } = await import("write-excel-file/node");
  return await write(sheets).toBuffer();
}
