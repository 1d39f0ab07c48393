import type { Ellipse } from "../../agreement/index.js";
import type { Part } from "../figureSpec.js";
import { colours, dashed, halo, sizes } from "../theme.js";
import { ellipseOutline } from "./ellipseOutline.js";

/**
 * An ellipse with a white edge: solid with a cross at its centre where it is that of the mean, else
 * dashed.
 */
export function ellipseLayers(ellipse: Ellipse, x: Part, y: Part): readonly Part[] {
  const ofMean = ellipse.region === "confidence-of-mean";
  const outline = (color: string, strokeWidth: number): Part => ({
    data: { values: ellipseOutline(ellipse) },
    mark: { type: "line", color, strokeWidth, ...dashed(ofMean ? "solid" : "long") },
    encoding: outlineEncoding(x, y),
  });
  return [
    outline(halo.color, sizes.line + halo.extraWidth),
    outline(ofMean ? colours.ink : colours.second, sizes.line),
    ...(ofMean ? crossLayers(ellipse.centre, x, y) : []),
  ];
}

/** A closed line in drawing order. */
export function outlineEncoding(x: Part, y: Part): Part {
  return {
    x: { field: "x", ...x },
    y: { field: "y", ...y },
    order: { field: "order", type: "quantitative" },
  };
}

/** A cross at a place of the plane, with a white edge; open in the middle, where a small ellipse is seen. */
export function crossLayers(
  place: { readonly x: number; readonly y: number },
  x: Part,
  y: Part,
): readonly Part[] {
  const looks = [
    { color: halo.color, strokeWidth: sizes.line + halo.extraWidth, size: 90 },
    { color: colours.ink, strokeWidth: sizes.line, size: 80 },
  ];
  return looks.map((look) => ({
    data: { values: [place] },
    mark: {
      type: "point",
      shape: "M-1,0H-0.4M0.4,0H1M0,-1V-0.4M0,0.4V1",
      filled: false,
      opacity: 1,
      ...look,
    },
    encoding: { x: { field: "x", ...x }, y: { field: "y", ...y } },
  }));
}
