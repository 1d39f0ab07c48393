import type { Ellipse } from "../agreement/index.js";
import {
  type Astigmatism,
  astigmatismPoints,
  isShownPairs,
  type PointOptions,
  type ShownPairs,
} from "../privacy/index.js";
import { type FigureSpec, type ForAudience, shownTo } from "../results/index.js";
import { figureSpec } from "./figureSpec.js";
import {
  type DensityLegend,
  type DrawnPanel,
  doubleAngleLayers,
} from "./marks/doubleAngleLayers.js";
import { reach, regionWords } from "./marks/ellipseOutline.js";
import { legendValues } from "./marks/pairLayers.js";
import { noteOf, placesOf } from "./marks/pairMarks.js";
import { columnMm, pointsPerMm } from "./theme.js";
import { counted, grouped, number, percent, sentence } from "./words.js";

/** One group of eyes: right eyes, left eyes, or both with the left ones mirrored. */
export interface DoubleAnglePanel extends ForAudience {
  /** Such as "right eyes" or "all eyes, left mirrored". */
  readonly label: string;
  /** Null where the number is not for the reader. */
  readonly n: number | null;
  /** Ellipses of (J0, J45) from a result of `vectorAgreement`; the centroid is their centre. */
  readonly ellipses: readonly Ellipse[];
  readonly points?: ShownPairs | ArrayLike<Astigmatism>;
}

export interface DoubleAngleOptions extends PointOptions {
  /** What the vectors are, such as "difference, test − reference"; "refraction" by default. */
  readonly quantity?: string;
  /** What the vectors are: of a difference the ends of the axis say "more with the rule". */
  readonly of?: "refraction" | "difference";
}

/**
 * Double-angle plot of astigmatism: J0 to the right, J45 upwards, so that an axis of A degrees
 * (minus cylinder) stands at the angle 2 A. Draws the centroid, the ellipses of the result, rings at
 * stated lengths of the vector (half of the cylinder), and names both ends of the J0 axis, because
 * conventions differ.
 *
 * @param panels one group of eyes, or two side by side
 *
 * @example
 * doubleAngleFigure([{ label: "right eyes", n: 20, ellipses: [] }]).widthMm // => 84
 */
export function doubleAngleFigure(
  panels: readonly DoubleAnglePanel[],
  options: DoubleAngleOptions = {},
): FigureSpec {
  const { quantity = "refraction", of = "refraction" } = options;
  const drawn = panels.map((panel) => ({ ...panel, shown: pairsOf(panel, options) }));
  const { rings, radius } = ringsFor(Math.max(0.25, ...drawn.map(reachOf)));
  const widthMm = panels.length === 1 ? columnMm.single : columnMm.double;
  const eyes = drawn
    .map(({ label, n }) => (n === null ? label : `${label} ${counted(n, "eye")}`))
    .join("; ");
  const legend = densityLegend(drawn);
  const views = drawn.map((panel) => doubleAngleLayers(panel, rings, radius, legend, of));
  const sidePoints = Math.floor(80 * pointsPerMm);
  return figureSpec({
    name: "double-angle",
    title: `Astigmatism on the double-angle plane: ${quantity}`,
    caption: [
      sentence(
        `Astigmatism of ${quantity}, double-angle plane (J0 to the right, J45 upwards) in dioptres: ${eyes}`,
      ),
      `Cross: centroid. ${sentence(ellipseKey(panels))}`,
      of === "difference"
        ? "Rings: length of the difference (below, to the right), and its cylinder, which is twice as long (to the left)."
        : "Rings: length of the vector (below, to the right), and the cylinder, which is twice as long (to the left). Directions: axis of the minus cylinder.",
      noteOf(drawn[0]?.shown, "D"),
    ]
      .filter(Boolean)
      .join(" "),
    alt: drawn.map((panel) => panelWords(panel, quantity)).join(" "),
    widthMm,
    heightMm: 93,
    spec:
      views.length === 1
        ? { layer: views[0] }
        : {
            spacing: 8,
            hconcat: views.map((layer, at) => ({
              title: panels[at]!.label,
              width: sidePoints,
              height: sidePoints,
              layer,
            })),
          },
  });
}

function pairsOf(panel: DoubleAnglePanel, options: DoubleAngleOptions): ShownPairs | undefined {
  const { points } = panel;
  if (points === undefined || isShownPairs(points)) return points;
  return astigmatismPoints(points, { ...options, audience: shownTo(options.audience, panel) });
}

/** In a corner of a single plane, above two; the same counts for both. */
function densityLegend(panels: readonly DrawnPanel[]): DensityLegend {
  const values = legendValues(panels.map(({ shown }) => shown));
  return panels.length === 1
    ? { values, orient: "top-left", direction: "vertical", gradientLength: 32, offset: 0 }
    : { values, orient: "top", direction: "horizontal", titleOrient: "left", gradientLength: 70 };
}

/** How far from the origin anything is drawn. */
function reachOf({ ellipses, shown }: DrawnPanel): number {
  const marks = placesOf(shown).map(({ x, y }) => Math.hypot(x, y));
  return Math.max(0, ...ellipses.map(reach), ...marks);
}

/** Two to four rings of a round step, the last at or beyond the outermost mark. */
function ringsFor(outermost: number): {
  readonly rings: readonly number[];
  readonly radius: number;
} {
  const step =
    [0.1, 0.25, 0.5, 1, 2, 5].find((size) => outermost / size <= 4) ??
    10 ** Math.ceil(Math.log10(outermost / 4));
  const count = Math.max(1, Math.ceil(outermost / step));
  return {
    rings: Array.from({ length: count }, (_, at) => step * (at + 1)),
    radius: step * count * 1.12,
  };
}

function ellipseKey(panels: readonly DoubleAnglePanel[]): string {
  const names = panels
    .flatMap(({ ellipses }) => ellipses)
    .map(({ region, level }) =>
      region === "confidence-of-mean"
        ? `solid ellipse: ${percent(level)} ${regionWords[region]}`
        : `dashed ellipse: ${regionWords[region]}, ${percent(level)} of eyes`,
    );
  return [...new Set(names)].join("; ") || "no ellipse estimated";
}

function panelWords({ label, n, ellipses }: DrawnPanel, quantity: string): string {
  const { x, y } = ellipses[0]?.centre ?? { x: Number.NaN, y: Number.NaN };
  const centre = ellipses.length === 0 ? "" : `, centroid J0 ${number(x)} D, J45 ${number(y)} D`;
  const regions = ellipses.map(
    ({ region, level, semiAxes }) =>
      `; ${percent(level)} ${regionWords[region]} with semi-axes ${semiAxes.map((axis) => number(axis)).join(" and ")} D`,
  );
  return `Double-angle plot of ${quantity}, ${label}${n === null ? "" : `, n = ${grouped(n)}`}${centre}${regions.join("")}.`;
}
