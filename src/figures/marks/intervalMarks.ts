import type { Part } from "../figureSpec.js";
import { bandLook, colours, sizes } from "../theme.js";

/**
 * Lines from `low` to `high`, one a row, with ends taller than any mark on them: an interval narrower
 * than its mark is still seen around it.
 */
export function intervalMarks(
  values: readonly object[],
  { x, y, low = "low", high = "high" }: Row,
): readonly Part[] {
  const data = { values };
  const end = (field: string): Part => ({
    data,
    mark: {
      type: "tick",
      orient: "vertical",
      color: colours.ink,
      thickness: sizes.thin,
      size: 9,
      opacity: 1,
    },
    encoding: { y, x: { field, ...x } },
  });
  return [
    {
      data,
      mark: { type: "rule", color: colours.ink, strokeWidth: sizes.line },
      encoding: { y, x: { field: low, ...x }, x2: { field: high } },
    },
    end(low),
    end(high),
  ];
}

/** A wide bar from `low` to `high`, one a row, with an edge. */
export function rangeBar(
  values: readonly object[],
  { x, y, low = "low", high = "high" }: Row,
): Part {
  return {
    data: { values },
    mark: { type: "bar", height: 9, ...bandLook("first") },
    encoding: { y, x: { field: low, ...x }, x2: { field: high } },
  };
}

interface Row {
  readonly x: Part;
  readonly y: Part;
  readonly low?: string;
  readonly high?: string;
}
