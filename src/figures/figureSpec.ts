import type { FigureSpec } from "../results/index.js";
import { config, pointsPerMm } from "./theme.js";

/** A part of a Vega-Lite specification; the schema test decides whether it is one. */
export type Part = { readonly [key: string]: unknown };

/** What every figure states beside its marks. */
export interface FigureParts extends Omit<FigureSpec, "kind" | "spec"> {
  readonly spec: Part;
}

/** Schema, theme, size and alternative text around a figure's marks. */
export function figureSpec({ spec, ...parts }: FigureParts): FigureSpec {
  const single = !("hconcat" in spec || "vconcat" in spec || "concat" in spec || "facet" in spec);
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
      padding: 4,
      ...spec,
      config,
    },
  };
}

function points(mm: number): number {
  return Math.round(mm * pointsPerMm * 100) / 100;
}
