import type { FigureSpec } from "../../results/index.js";
import { chartSvg } from "./chartSvg.js";
import { svgToPng } from "./png.js";

/** A figure drawn for inspection. */
interface DrawnPicture {
  readonly svg: string;
  readonly png: Uint8Array;
  readonly widthMm: number;
  readonly heightMm: number;
  /** What the compiler had to say. */
  readonly warnings: readonly string[];
  /** Page edges that ink reaches: something is cut off there. */
  readonly edges: readonly ("top" | "right" | "bottom" | "left")[];
}

/** Draws a figure and reports what a reader would see as a fault. */
export async function drawnPicture(figure: FigureSpec, dpi = 144): Promise<DrawnPicture> {
  const { svg, widthPoints, heightPoints, warnings } = await chartSvg(figure);
  const { png, width, height, pixels } = await svgToPng(svg, { widthPoints, dpi });
  const ink = (x: number, y: number) => {
    const at = 4 * (y * width + x);
    return [0, 1, 2].some((channel) => pixels[at + channel]! < 250);
  };
  const along = (length: number, at: (index: number) => boolean) =>
    Array.from({ length }, (_, index) => index).some(at);
  const edges = {
    top: along(width, (x) => ink(x, 0)),
    right: along(height, (y) => ink(width - 1, y)),
    bottom: along(width, (x) => ink(x, height - 1)),
    left: along(height, (y) => ink(0, y)),
  };
  return {
    svg,
    png,
    widthMm: (widthPoints / 72) * 25.4,
    heightMm: (heightPoints / 72) * 25.4,
    warnings,
    edges: (["top", "right", "bottom", "left"] as const).filter((edge) => edges[edge]),
  };
}
