import type { Ellipse, VectorAgreement } from "../agreement/index.js";
import { regionShadow } from "../agreement/index.js";
import { type PointOptions, type ShownPairs, shownPairs } from "../privacy/index.js";
import { type FigureSpec, shownTo } from "../results/index.js";
import { figureSpec } from "./figureSpec.js";
import { crossLayers, ellipseLayers } from "./marks/ellipseLayers.js";
import { ellipseOutline } from "./marks/ellipseOutline.js";
import { pairLayers } from "./marks/pairLayers.js";
import { noteOf, placesOf } from "./marks/pairMarks.js";
import { numericAxis } from "./marks/seriesLayers.js";
import { columnMm } from "./theme.js";
import { counted, estimateWords, grouped, number, percent } from "./words.js";

/** Differences of power vectors, test minus reference. */
export interface VectorDifference {
  readonly M: number;
  readonly J0: number;
  readonly J45: number;
}

const order = ["M", "J0", "J45"] as const;
const planes = [
  { across: 0, up: 1 },
  { across: 0, up: 2 },
  { across: 1, up: 2 },
] as const;

/**
 * The vector difference (test minus reference) seen along its three axes: mean, eyes, and the
 * shadow of the result's plug-in ellipsoid, which holds a larger share of eyes on a plane than the
 * ellipsoid does in space.
 *
 * Axes are in dioptres.
 *
 * @param result a result of `vectorAgreement`
 * @param differences the plotted rows, left eyes mirrored as in the result
 *
 * @example
 * const vectors = [[0, 1, 0], [1, 0, 1], [0, -1, 0], [1, 0, -1], [0, 0.5, 0.5]].map(([M, J0, J45]) => ({ M, J0, J45 }));
 * const reference = vectors.map(() => ({ M: 0, J0: 0, J45: 0 }));
 * vectorProjectionsFigure(vectorAgreement({ test: vectors, reference }), vectors).name // => "vector-projections"
 */
export function vectorProjectionsFigure(
  result: VectorAgreement,
  differences: ArrayLike<VectorDifference> = [],
  options: PointOptions = {},
): FigureSpec {
  const region = result.regions.find((one) => one.region === "plug-in");
  const audience = shownTo(options.audience, result);
  const list = Array.from(differences);
  const notes = new Set<string>();
  const drawn = planes.map(({ across, up }) => {
    const [xName, yName] = [order[across], order[up]];
    const centre = { x: result.mean[xName], y: result.mean[yName] };
    const shown =
      list.length === 0
        ? undefined
        : shownPairs(
            { x: list.map((one) => one[xName]), y: list.map((one) => one[yName]) },
            { ...options, audience },
          );
    const shadow = region && regionShadow(region, result.mean, [xName, yName]);
    return { xName, yName, centre, shown, shadow };
  });
  const far = Math.max(0.25, ...drawn.map(({ shown, shadow }) => reachOf(shown, shadow)));
  const scale = { domain: [-far * 1.05, far * 1.05], nice: false };
  const views = drawn.map(({ xName, yName, centre, shown, shadow }) => {
    const x = numericAxis(`${xName} (D)`, { scale });
    const y = numericAxis(`${yName} (D)`, { scale });
    if (shown !== undefined) notes.add(noteOf(shown, "D"));
    return {
      layer: [
        ...pairLayers(shown, { x, y, noun: "eyes", legend: none }),
        ...(shadow === undefined ? [] : ellipseLayers(shadow, x, y)),
        ...crossLayers(centre, x, y),
      ],
    };
  });
  const { M, J0, J45 } = result.mean;
  const mean = `M ${number(M)} D, J0 ${number(J0)} D, J45 ${number(J45)} D`;
  return figureSpec({
    name: "vector-projections",
    title: "The vector difference along its three axes",
    caption:
      `Differences (test minus reference) of the power vector, three projections, ${counted(result.n, "eye")}. Cross: mean (${mean}).${region === undefined ? "" : ` Dashed: shadow of the ellipsoid of ${percent(region.level)} of eyes (plug-in), which holds more than that on a plane.`} ${[...notes].join(" ").replace("Shading: number", "Shading, darker for more: number")}`.trimEnd(),
    alt: `Three projections of the vector difference, n = ${grouped(result.n)}: mean difference ${order.map((name) => `${name} ${estimateWords(result.limits[name].bias, "D")}`).join("; ")}${result.hotelling.kind === "hotelling" ? `; Hotelling test that it is zero p = ${Number(result.hotelling.p.toPrecision(2))}` : ""}.`,
    widthMm: columnMm.double,
    heightMm: 60,
    spec: {
      spacing: 14,
      hconcat: views.map((view) => ({ width: 116, height: 116, ...view })),
    },
  });
}

/** The largest coordinate that is drawn. */
function reachOf(shown: ShownPairs | undefined, shadow: Ellipse | undefined): number {
  const outline = shadow === undefined ? [] : ellipseOutline(shadow);
  const places = [...outline, ...placesOf(shown)].flatMap(({ x, y }) => [x, y]);
  return Math.max(0, ...places.map(Math.abs));
}

const none = { orient: "none", values: [], title: null, gradientLength: 0, gradientThickness: 0 };
