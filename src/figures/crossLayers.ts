import type { Part } from "./figureSpec.js";
import { colours, halo, sizes } from "./theme.js";

/** A cross at a place of the plane, with a white edge. */
export function crossLayers(
  place: { readonly x: number; readonly y: number },
  x: Part,
  y: Part,
): readonly Part[] {
  const looks = [
    { color: halo.color, strokeWidth: sizes.line + halo.extraWidth, size: 60 },
    { color: colours.ink, strokeWidth: sizes.line, size: 40 },
  ];
  return looks.map((look) => ({
    data: { values: [place] },
    mark: { type: "point", shape: "M-1,0H1M0,-1V1", filled: false, opacity: 1, ...look },
    encoding: { x: { field: "x", ...x }, y: { field: "y", ...y } },
  }));
}
