import { type FigureSpec, InputError, type RunOptions } from "../../results/index.js";
import { chartSvg } from "./chartSvg.js";
import { svgToPdf } from "./pdf.js";
import { svgToPng } from "./png.js";
import type { Theme } from "./screenSvg.js";

const themes: readonly Theme[] = ["page", "light", "dark"];

export interface RenderOptions extends RunOptions {
  /** "svg" by default. */
  readonly format?: "svg" | "png" | "pdf";
  /** Dots per inch of a PNG, written into the file; 300 by default. */
  readonly dpi?: number;
  /** Of an SVG: "page" by default, dark where the reader's page is; "light" or "dark" in any case. */
  readonly theme?: Theme;
}

/**
 * Draws a figure at the size it states: SVG text (one unit a point, size in millimetres), PNG
 * bytes at `dpi`, or PDF bytes with text as text. Letters are those of the two bundled fonts; an
 * SVG carries those that it has, its title and its description, and is dark on a dark page. Pictures
 * and pages to print are light.
 *
 * @param figure a figure of this package, or any with a Vega-Lite specification
 * @param options `format` "svg" by default, "png" or "pdf"; `dpi` 300 by default, of a PNG alone; `theme` "page" by default, of an SVG alone
 * @throws when the format is unknown or the dpi lies outside 36 to 2400
 *
 * @example
 * (await render(rocFigure(rocCurve({ values: [1, 2, 3, 4], condition: [0, 0, 1, 1] }, { positiveWhen: "high" })))).startsWith("<svg") // => true
 */
export async function render(
  figure: FigureSpec,
  options?: RenderOptions & { readonly format?: "svg" },
): Promise<string>;
export async function render(
  figure: FigureSpec,
  options: RenderOptions & { readonly format: "png" | "pdf" },
): Promise<Uint8Array>;
export async function render(
  figure: FigureSpec,
  { format = "svg", dpi = 300, theme = "page", signal, onProgress }: RenderOptions = {},
): Promise<string | Uint8Array> {
  if (!themes.includes(theme)) {
    throw new InputError(`render requires a theme ${themes.join(", ")}, got ${theme}`);
  }
  signal?.throwIfAborted();
  onProgress?.({ stage: "drawing", done: 0 });
  const drawing = await chartSvg(figure, theme).catch((error: Error) => {
    throw new InputError(
      `render requires a figure that Vega-Lite can draw, got ${figure.name}: ${error.message}`,
    );
  });
  signal?.throwIfAborted();
  const result = await written(format);
  onProgress?.({ stage: "drawing", done: 1 });
  return result;

  async function written(as: string): Promise<string | Uint8Array> {
    if (as === "svg") return drawing.screen;
    if (as === "png") {
      return (await svgToPng(drawing.svg, { widthPoints: drawing.widthPoints, dpi })).png;
    }
    if (as === "pdf") return svgToPdf(drawing, figure);
    throw new InputError(`render requires a format "svg", "png" or "pdf", got ${as}`);
  }
}
