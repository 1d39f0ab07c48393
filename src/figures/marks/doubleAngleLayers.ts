import type { Ellipse } from "../../agreement/index.js";
import type { ShownPairs } from "../../privacy/index.js";
import type { Part } from "../figureSpec.js";
import { colours, dashes, halo, sizes } from "../theme.js";
import { ellipseLayers, outlineEncoding } from "./ellipseLayers.js";
import { ellipseOutline } from "./ellipseOutline.js";
import { pairLayers } from "./pairLayers.js";

/** A group of eyes ready to be drawn. */
export interface DrawnPanel {
  readonly label: string;
  readonly n: number | null;
  readonly ellipses: readonly Ellipse[];
  readonly shown: ShownPairs | undefined;
}

/** Where the key to the shading stands, and the counts it names. */
export type DensityLegend = Part;

/** The layers of one double-angle plane, out to `radius` dioptres. */
export function doubleAngleLayers(
  { ellipses, shown }: DrawnPanel,
  rings: readonly number[],
  radius: number,
  legend: DensityLegend | undefined,
  of: "refraction" | "difference",
): readonly Part[] {
  const scale = { domain: [-radius, radius], nice: false };
  const x = { type: "quantitative", scale, axis: ringAxis(rings) };
  const y = { type: "quantitative", scale, axis: null };
  const outer = rings.at(-1)!;
  return [
    ...pairLayers(shown, { x, y, noun: "eyes", legend }),
    ...rings.map((ring) => ringLayer(ring, x, y)),
    {
      data: {
        values: [
          { x: -outer, y: 0, x2: outer, y2: 0 },
          { x: 0, y: -outer, x2: 0, y2: outer },
        ],
      },
      mark: { type: "rule", color: colours.quiet, strokeWidth: sizes.thin },
      encoding: {
        x: { field: "x", ...x },
        y: { field: "y", ...y },
        x2: { field: "x2" },
        y2: { field: "y2" },
      },
    },
    ...ellipses.flatMap((ellipse) => ellipseLayers(ellipse, x, y)),
    ...endsOf(of).flatMap(({ at: [across, up], lines, ...place }) =>
      [textEdge, {}].map((look) => ({
        data: { values: [{ x: across * radius, y: up * radius }] },
        mark: { type: "text", lineHeight: 8.5, fontWeight: 600, ...place, ...look },
        encoding: {
          x: { field: "x", ...x },
          y: { field: "y", ...y },
          text: { value: lines },
        },
      })),
    ),
  ];
}

/** The same rings in both scales below the plane, where no mark stands: the cylinder to the left, the vector to the right. */
function ringAxis(rings: readonly number[]): Part {
  return {
    values: [...rings.map((ring) => -ring), ...rings],
    labelExpr: "format(abs(datum.value) * (datum.value < 0 ? 2 : 1), '.3~r')",
    title: "Rings: cylinder to the left, vector to the right (D)",
    domain: false,
  };
}

const textEdge = { stroke: halo.color, strokeWidth: 3, strokeJoin: "round" } as const;

/** What stands at the ends of both axes; a difference has a direction and no axis of its own. */
function endsOf(of: "refraction" | "difference") {
  if (of === "refraction") return ends;
  const words = ["→ more with", "← more against", "more oblique, 45°", "more oblique, 135°"];
  return ends.map((end, at) => ({
    ...end,
    lines: at < 2 ? [words[at]!, "the rule"] : [words[at]!],
  }));
}

// outside the outermost ring, where no mark stands: the corners, and beside the upright axis
const ends = [
  {
    at: [1, -1],
    lines: ["→ with the rule,", "axis 180°"],
    align: "right",
    baseline: "bottom",
    dx: 0,
    dy: -8.5,
  },
  {
    at: [-1, -1],
    lines: ["← against the rule,", "axis 90°"],
    align: "left",
    baseline: "bottom",
    dx: 0,
    dy: -8.5,
  },
  { at: [0, 1], lines: ["oblique, axis 45°"], align: "left", baseline: "top", dx: 3, dy: 0 },
  { at: [0, -1], lines: ["oblique, axis 135°"], align: "left", baseline: "bottom", dx: 3, dy: 0 },
] as const;

function ringLayer(ring: number, x: Part, y: Part): Part {
  const circle = { centre: { x: 0, y: 0 }, semiAxes: [ring, ring], angle: 0 } as const;
  return {
    data: { values: ellipseOutline(circle) },
    mark: {
      type: "line",
      color: colours.quiet,
      strokeWidth: sizes.thin,
      strokeDash: dashes.dotted,
    },
    encoding: outlineEncoding(x, y),
  };
}
