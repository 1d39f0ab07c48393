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
 * its cut-off. The names stand below the lowest mark and to the right, where no curve runs; or beside the plane.
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

/** Where the names stand: one below the other, all of them to the right of every mark, so that no line runs through one. */
function namesOf(marks: readonly OperatingMark[]) {
  return belowMarks(marks) ?? besidePlane(marks);
}

/** Whether the names of these marks need a place of their own, to the right of the plane. */
export function areBesidePlane(marks: readonly OperatingMark[]): boolean {
  return belowMarks(marks) === null;
}

/** Whether a name stands above the axis and on one side of the dotted line. */
function isClear({ toX, toY, text }: ReturnType<typeof named>): boolean {
  const half = 0.6 * lineHeight;
  return (
    toY >= 0.16 + lineHeight && (toY + half < toX || toY - half > toX + letterWidth * text.length)
  );
}

/** At most, in parts of the plane. */
const letterWidth = 0.023;
const besideMarks = 0.08;

/** Below the lowest mark, in the order of the marks from the right; null where there is no room. */
function belowMarks(marks: readonly OperatingMark[]) {
  const right = Math.max(...marks.flatMap(({ x, twin }) => [x, twin?.x ?? x]));
  const low = Math.min(...marks.flatMap(({ y, twin }) => [y, twin?.y ?? y]));
  const toX = right + besideMarks;
  const names = [...marks]
    .sort((a, b) => b.x - a.x)
    .map((mark, at) => named(mark, toX, low - besideMarks - lineHeight * at));
  return toX <= 0.5 && names.every(isClear) ? names : null;
}

/** Where the plane leaves no room, each name stands beside it, as near to its mark as the others let it. */
function besidePlane(marks: readonly OperatingMark[]) {
  const fromAbove = [...marks].sort((a, b) => b.y - a.y || b.x - a.x);
  let next = 1;
  return fromAbove.map((mark, at) => {
    const below = fromAbove.length - 1 - at;
    // the last ones have room above the axis
    const toY = Math.min(next, Math.max(mark.y, (below + 0.5) * lineHeight));
    next = toY - lineHeight;
    return named(mark, 1.04, toY);
  });
}

function named({ x, y, label, origin }: OperatingMark, toX: number, toY: number) {
  return { x, y, toX, toY, text: `${label}, ${origin}` };
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
