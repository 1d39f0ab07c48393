import { chartSvg, type Drawing, svgToPng } from "../../figures/index.js";
import { type FigureSpec, InputError } from "../../results/index.js";

/** A figure drawn once, for every file of a report that shows it. */
export interface DrawnFigure extends Drawing {
  /** 300 dots an inch. */
  readonly png: Uint8Array;
}

export async function drawFigure(figure: FigureSpec): Promise<DrawnFigure> {
  const drawing = await chartSvg(figure);
  const { png } = await svgToPng(drawing.svg, { widthPoints: drawing.widthPoints, dpi: 300 });
  return { ...drawing, png };
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
