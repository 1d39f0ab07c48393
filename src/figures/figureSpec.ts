import type { FigureSpec } from "../results/index.js";
import { config, pointsPerMm } from "./theme.js";

/** A part of a Vega-Lite specification; the schema test decides whether it is one. */
export type Part = { readonly [key: string]: unknown };

/** Around every figure's plane, in points. */
export const padding = 4;

/** What every figure states beside its marks. */
interface FigureParts extends Omit<FigureSpec, "kind" | "spec"> {
  readonly spec: Part;
  /** Nothing of the data is left to be drawn: the figure says so in place of a plane. */
  readonly isEmpty?: boolean;
}

/** Schema, theme, size and alternative text around a figure's marks; layers without data go. */
export function figureSpec({ spec, isEmpty = false, ...parts }: FigureParts): FigureSpec {
  const marks = (isEmpty ? undefined : withData(spec)) ?? emptyPlane;
  const single = !("hconcat" in marks || "concat" in marks);
  const size = single
    ? {
        width: points(parts.widthMm),
        height: points(parts.heightMm),
        autosize: { type: "fit", contains: "padding" },
      }
    : {};
  return {
    kind: "figure",
    ...parts,
    spec: {
      $schema: "https://vega.github.io/schema/vega-lite/v6.json",
      description: parts.alt,
      ...size,
      padding,
      ...marks,
      config,
    },
  };
}

const emptyPlane: Part = {
  data: { values: [{}] },
  mark: { type: "text", lineHeight: 11 },
  encoding: { text: { value: ["Nothing is drawn:", "too few rows, or nothing estimated"] } },
};

/** The part without layers that have no data; undefined where none is left. */
function withData(part: Part): Part | undefined {
  const { data, layer } = part as {
    readonly data?: { readonly values?: readonly unknown[] };
    readonly layer?: readonly Part[];
  };
  if (data?.values?.length === 0) return undefined;
  if (layer === undefined) return part;
  const left = layer.flatMap((one) => withData(one) ?? []);
  return left.length === 0 ? undefined : { ...part, layer: left };
}

function points(mm: number): number {
  return Math.round(mm * pointsPerMm * 100) / 100;
}
