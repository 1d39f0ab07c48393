import { chartLibraries } from "../../platform/index.js";
import type { FigureSpec } from "../../results/index.js";
import { type NumberStyle, styledNumbers } from "../../rows/index.js";
import { escapeHtml, plainText, plainTexts } from "../../text/index.js";
import { fontFamily, pointsPerMm } from "../theme.js";
import { loadFonts, loadTextWidth } from "./fonts.js";
import { withShortDots } from "./manyDots.js";
import { screenSvg, type Theme } from "./screenSvg.js";
import { withTextLengths } from "./textLengths.js";

/** A drawn figure; the view box is in points of its own size. */
export interface Drawing {
  /** For converters: in the bundled fonts, on a light page. */
  readonly svg: string;
  /** For viewers: with its letters, and dark on a dark page. */
  readonly screen: string;
  readonly widthPoints: number;
  readonly heightPoints: number;
  /** Where the plotting area of a single view lies, in the view box. */
  readonly plane: {
    readonly x: number;
    readonly y: number;
    readonly width: number;
    readonly height: number;
  };
  /** What the compiler had to say; empty for every figure of this package. */
  readonly warnings: readonly string[];
}

/** What a journal asks of a drawing beside its content. */
interface Look {
  readonly numbers?: NumberStyle;
  /** Printed size over the figure's own. */
  readonly scale?: number;
}

/**
 * Draws a specification as SVG. The libraries load at first use; from then on they lay out text
 * by the widths of the bundled font in this process.
 */
export async function chartSvg(
  figure: FigureSpec,
  theme: Theme = "page",
  { numbers, scale = 1 }: Look = {},
): Promise<Drawing> {
  const { vega, vegaLite, interpreter, fonts, textWidth } = await libraries();
  const warnings: string[] = [];
  const note = (...messages: readonly unknown[]) => {
    warnings.push(messages.map(String).join(" "));
    return logger;
  };
  const quiet = () => logger;
  const logger = { level: () => logger, error: note, warn: note, info: quiet, debug: quiet };
  type Spec = Parameters<typeof vegaLite.compile>[0];
  const spec = structuredClone(plainTexts(figure.spec)) as unknown as Spec;
  const compiled = vegaLite.compile(spec, { logger: logger as unknown as never }).spec;
  const evaluated = interpreter === undefined ? {} : { expr: interpreter };
  const view = new vega.View(vega.parse(compiled, undefined, { ast: interpreter !== undefined }), {
    renderer: "none",
    ...evaluated,
    logger: logger as unknown as never,
  });
  try {
    const drawn = ownIds(await view.toSVG(), figure.name);
    const [, width, height] = /viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(drawn)!;
    const svg = drawn
      .replace(
        /^<svg([^>]*?) width="[^"]*" height="[^"]*"/,
        (_, rest) => `<svg${rest} width="${mm(width, scale)}" height="${mm(height, scale)}"`,
      )
      // what a scale of line patterns calls solid; not every converter takes a gap of 0
      .replaceAll(' stroke-dasharray="1,0"', "")
      // a label on each eye's mark would tell its numbers; the figure's own text says what it shows
      .replace(/ aria-label="[^"]*" role="graphics-symbol" aria-roledescription="point"/g, "")
      .replace(/transform="translate\(([-\d.e]+),([-\d.e]+)\)"/g, (_, x, y) => {
        return `transform="translate(${hundredths(x)},${hundredths(y)})"`;
      })
      // a viewer without the bundled letters takes others without serifs; unquoted, the digit in
      // the name would make the whole list invalid
      .replaceAll(`font-family="${fontFamily}"`, `font-family="'${fontFamily}', sans-serif"`);
    const [x, y] = view.origin();
    const { left, top } = view.padding() as { left: number; top: number };
    const plane = { x: x + left, y: y + top, width: view.width(), height: view.height() };
    const plain = withShortDots(
      withTextLengths(withStyle(withNames(svg, figure), numbers), textWidth),
    );
    return {
      svg: plain,
      screen: screenSvg(plain, { stem: stemOf(figure.name), fonts, theme }),
      widthPoints: scale * Number(width),
      heightPoints: scale * Number(height),
      plane,
      warnings,
    };
  } finally {
    view.finalize();
  }
}

/**
 * The library numbers its gradients and clipping paths on from drawing to drawing; here they are
 * numbered within the figure, whose name sets them apart from those of others on one page.
 */
function ownIds(svg: string, name: string): string {
  const stem = stemOf(name);
  const ids = [...svg.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
  return ids.reduce(
    (text, id, at) =>
      text
        .replaceAll(` id="${id}"`, ` id="${stem}-part-${at}"`)
        .replaceAll(`url(#${id})`, `url(#${stem}-part-${at})`),
    svg,
  );
}

/** What the drawing is, and what it shows, for those who do not see it. */
function withNames(svg: string, { title, alt }: FigureSpec): string {
  const words = `<title>${escapeHtml(plainText(title))}</title><desc>${escapeHtml(plainText(alt))}</desc>`;
  return svg.replace(/^(<svg[^>]*)>/, (_, start) => `${start} role="img">${words}`);
}

/** Every text with the signs of a journal in its numbers. */
function withStyle(svg: string, numbers: NumberStyle | undefined): string {
  if (numbers === undefined) return svg;
  return svg.replace(/>([^<>]+)</g, (_, text) => `>${styledNumbers(text, numbers)}<`);
}

const stemOf = (name: string): string => name.replace(/[^\w-]+/g, "-");

function hundredths(text: string): number {
  return Number(Number(text).toFixed(2));
}

function mm(points: string, scale: number): string {
  return `${((scale * Number(points)) / pointsPerMm).toFixed(2)}mm`;
}

let loaded: ReturnType<typeof load> | undefined;

function libraries(): ReturnType<typeof load> {
  loaded ??= load();
  return loaded;
}

async function load() {
  const [{ vega, vegaLite, interpreter }, fonts, textWidth] = await Promise.all([
    chartLibraries(),
    loadFonts(),
    loadTextWidth(),
  ]);
  const { textMetrics } = vega as unknown as { textMetrics: TextMetrics };
  textMetrics.width = (item, line) =>
    textWidth(String(line ?? "").trim(), item.fontSize ?? 11, item.fontWeight);
  return { vega, vegaLite, interpreter, fonts, textWidth };
}

/** The part of the renderer that measures text; its types leave it out. */
interface TextMetrics {
  width: (
    item: { readonly fontSize?: number; readonly fontWeight?: string | number | null },
    line: unknown,
  ) => number;
}
