import betaQuantile from "@stdlib/stats-base-dists-beta-quantile";
import binomialCdf from "@stdlib/stats-base-dists-binomial-cdf";
import fCdf from "@stdlib/stats-base-dists-f-cdf";
import fQuantile from "@stdlib/stats-base-dists-f-quantile";
import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import normalQuantile from "@stdlib/stats-base-dists-normal-quantile";
import tCdf from "@stdlib/stats-base-dists-t-cdf";
import tQuantile from "@stdlib/stats-base-dists-t-quantile";
import { z } from "zod";
import { InputError } from "../../results/index.js";
import { readBytes } from "./files.js";

// a page's policy forbids code that is made from text
z.config({ jitless: true });

export function schemaLibrary(): typeof z {
  return z;
}

type Distribution = (...parameters: number[]) => number;

const distributions: { readonly [name: string]: Distribution } = {
  "beta-quantile": betaQuantile,
  "binomial-cdf": binomialCdf,
  "f-cdf": fCdf,
  "f-quantile": fQuantile,
  "normal-cdf": normalCdf,
  "normal-quantile": normalQuantile,
  "t-cdf": tCdf,
  "t-quantile": tQuantile,
};

export function distribution(name: string): Distribution {
  return distributions[name];
}

/** Expressions are interpreted: nothing is compiled from text. */
export async function chartLibraries(): Promise<{
  readonly vega: typeof import("vega");
  readonly vegaLite: typeof import("vega-lite");
  readonly interpreter: unknown;
}> {
  const [vega, vegaLite, { expressionInterpreter: interpreter }] = await Promise.all([
    import("vega"),
    import("vega-lite"),
    import("vega-interpreter"),
  ]);
  return { vega, vegaLite, interpreter };
}

type Pixels = Awaited<ReturnType<typeof import("../node/libraries.js")["drawPixels"]>>;
type Pen = (svg: string, width: number) => Promise<Uint8Array>;
let pen: Pen | undefined;

/** Who draws an SVG as PNG: a worker has no canvas that can, its page has one. */
export function drawWith(given: Pen): void {
  pen = given;
}

export async function drawPixels(
  svg: string,
  {
    width,
  }: { readonly width: number; readonly fontFiles: readonly string[]; readonly fontFamily: string },
): Promise<Pixels> {
  if (pen === undefined) throw new InputError("a picture requires a page that draws it, got none");
  const png = await pen(svg, width);
  const height = new DataView(png.buffer, png.byteOffset).getUint32(20);
  return { png, width, height, pixels: new Uint8Array(0) };
}

/** The browser prints. */
export async function pdfLibraries(): Promise<null> {
  return null;
}

export async function databaseLibrary(): Promise<never> {
  throw new InputError("the database requires Node.js, got a page; use the command line for this");
}

export const has = { database: false, pdf: false };

export async function readWorkbook(path: string) {
  const { default: read } = await import("read-excel-file/universal");
  return await read(new Blob([(await readBytes(path)) as Uint8Array<ArrayBuffer>]));
}

export async function writeWorkbook(
  sheets: Parameters<typeof import("write-excel-file/node")["default"]>[0],
): Promise<Uint8Array> {
  const { default: write } = await import("write-excel-file/universal");
  return new Uint8Array(await (await write(sheets).toBlob()).arrayBuffer());
}
