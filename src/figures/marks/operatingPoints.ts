import type { Estimate, Undefined } from "../../results/index.js";
import type { Part } from "../figureSpec.js";
import { colours, halo, page, sizes } from "../theme.js";
import { rocX, rocY } from "./rocAxes.js";

interface Place {
  readonly x: number;
  readonly y: number;
}

/** A cut-off where it stands on the curve. */
export interface OperatingMark extends Place {
  readonly origin: "pre-specified" | "chosen";
  /** Such as "≤ −3.00 D". */
  readonly label: string;
  readonly accuracy?:
    | { readonly sensitivity: Estimate | Undefined; readonly specificity: Estimate | Undefined }
    | undefined;
  /** The same cut-off corrected for who was examined. */
  readonly twin?: Place | undefined;
}

const place = { x: rocX, y: rocY } as const;
const lineHeight = 0.065;

/**
 * Small marks on the curve with a cross of their intervals, and beside each, at the end of a thin line,
 * its cut-off. The names stand below the lowest mark and to the right, where no curve runs.
 */
export function operatingPointLayers(marks: readonly OperatingMark[]): readonly Part[] {
  if (marks.length === 0) return [];
  const names = namesOf(marks);
  const twins = marks.flatMap(({ twin }) => (twin === undefined ? [] : [twin]));
  return [
    leaders([
      ...names,
      ...marks.flatMap(({ x, y, twin }) =>
        twin === undefined ? [] : [{ x, y, toX: twin.x, toY: twin.y }],
      ),
    ]),
    ...crossLayers(marks),
    {
      data: { values: marks.map(({ x, y, origin }) => ({ x, y, origin })) },
      mark: {
        type: "point",
        filled: true,
        size: 18,
        fill: colours.second,
        stroke: page,
        strokeWidth: 0.8,
        opacity: 1,
      },
      encoding: {
        ...place,
        shape: {
          field: "origin",
          type: "nominal",
          scale: { domain: ["pre-specified", "chosen"], range: ["square", "circle"] },
          legend: null,
        },
      },
    },
    ...(twins.length === 0
      ? []
      : [
          {
            data: { values: twins },
            mark: {
              type: "point",
              shape: "diamond",
              filled: true,
              fill: page,
              size: 40,
              stroke: colours.second,
              strokeWidth: sizes.line,
              opacity: 1,
            },
            encoding: place,
          },
        ]),
    ...[{ stroke: halo.color, strokeWidth: 3, strokeJoin: "round" }, {}].map((look) => ({
      data: { values: names.map(({ toX, toY, text }) => ({ x: toX, y: toY, text })) },
      mark: { type: "text", align: "left", baseline: "middle", dx: 2, ...look },
      encoding: { ...place, text: { field: "text" } },
    })),
  ];
}

/** Where the names stand: one below the other, in the order of the marks from the right. */
function namesOf(marks: readonly OperatingMark[]) {
  const right = Math.max(...marks.flatMap(({ x, twin }) => [x, twin?.x ?? x]));
  const low = Math.min(...marks.flatMap(({ y, twin }) => [y, twin?.y ?? y]));
  const toX = Math.min(right + 0.08, 0.5);
  // beside a mark far to the right the curve may run low: the names go below the dotted line
  const top = right + 0.08 <= 0.5 ? low - 0.08 : Math.min(low - 0.08, 0.42);
  const most = 0.16 + lineHeight * marks.length;
  return [...marks]
    .sort((a, b) => b.x - a.x)
    .map(({ x, y, label, origin }, at) => ({
      x,
      y,
      toX,
      toY: Math.max(top, most) - lineHeight * at,
      text: `${label}, ${origin}`,
    }));
}

function leaders(values: readonly object[]): Part {
  return {
    data: { values },
    mark: { type: "rule", color: colours.quiet, strokeWidth: sizes.thin },
    encoding: { ...place, x2: { field: "toX" }, y2: { field: "toY" } },
  };
}

/** Intervals of both rates through the mark. */
function crossLayers(marks: readonly OperatingMark[]): readonly Part[] {
  const level = marks.flatMap(({ y, accuracy }) =>
    accuracy?.specificity.kind === "estimate"
      ? [{ y, x: 1 - accuracy.specificity.high, to: 1 - accuracy.specificity.low }]
      : [],
  );
  const upright = marks.flatMap(({ x, accuracy }) =>
    accuracy?.sensitivity.kind === "estimate"
      ? [{ x, y: accuracy.sensitivity.low, to: accuracy.sensitivity.high }]
      : [],
  );
  const cross = (values: readonly object[], channel: "x2" | "y2"): Part[] =>
    [
      { color: halo.color, strokeWidth: sizes.line + halo.extraWidth },
      { color: colours.second, strokeWidth: sizes.line },
    ].map((look) => ({
      data: { values },
      mark: { type: "rule", ...look },
      encoding: { ...place, [channel]: { field: "to" } },
    }));
  return [
    ...(level.length === 0 ? [] : cross(level, "x2")),
    ...(upright.length === 0 ? [] : cross(upright, "y2")),
  ];
}
