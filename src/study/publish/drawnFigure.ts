import { chartSvg, columnMm, type Drawing, svgToPng } from "../../figures/index.js";
import type { JournalStyle } from "../../protocol/index.js";
import { type FigureSpec, InputError } from "../../results/index.js";

/** A figure drawn once, for every file of a report that shows it. */
export interface DrawnFigure extends Drawing {
  /** 300 dots an inch. */
  readonly png: Uint8Array;
}

export async function drawFigure(figure: FigureSpec, style: JournalStyle): Promise<DrawnFigure> {
  const drawing = await chartSvg(figure, "page", lookOf(figure, style));
  const { png } = await svgToPng(drawing.svg, { widthPoints: drawing.widthPoints, dpi: 300 });
  return { ...drawing, png };
}

/** The journal's signs in its numbers, and a size as wide as the journal's columns. */
export function lookOf({ widthMm }: FigureSpec, { numbers, columnMm: own }: JournalStyle) {
  return { numbers, scale: own === null ? 1 : factorOf(widthMm, own) };
}

/** Figures of one column and of the page become as wide as the journal's; those between, by both. */
function factorOf(widthMm: number, [column, page]: readonly [number, number]): number {
  const [one, whole] = [column / columnMm.single, page / columnMm.double];
  if (widthMm <= columnMm.single) return one;
  return widthMm >= columnMm.double ? whole : (one + whole) / 2;
}

/** The drawing of a report's figure. @throws when it was not drawn */
export function drawingOf(
  { name }: FigureSpec,
  figures: ReadonlyMap<string, DrawnFigure>,
): DrawnFigure {
  const drawn = figures.get(name);
  if (drawn === undefined) {
    throw new InputError(
      `a report requires a drawing of each figure, got none of ${name} among ${[...figures.keys()].join(", ")}`,
    );
  }
  return drawn;
}
