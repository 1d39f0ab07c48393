import { describe, expect, it } from "vitest";
import { cases } from "./cases.js";

interface Cell {
  readonly n: number;
  readonly x: number;
  readonly x2: number;
  readonly y: number;
  readonly y2: number;
  readonly density?: number;
}
interface Layer {
  readonly mark?: { readonly type?: string };
  readonly data?: { readonly values?: readonly Partial<Cell>[] };
  readonly encoding?: { readonly color?: { readonly field?: string } };
}

/** The layers of counted cells, wherever in a specification they stand. */
function cellLayers(part: unknown): Layer[] {
  if (typeof part !== "object" || part === null) return [];
  const { mark, data } = part as Layer;
  const isCells =
    mark?.type === "rect" && data?.values?.some((cell) => "n" in cell && "x2" in cell) === true;
  return [...(isCells ? [part as Layer] : []), ...Object.values(part).flatMap(cellLayers)];
}

const withCells = cases.flatMap(({ name, draw }) => {
  const layers = cellLayers(draw().spec);
  return layers.length === 0 ? [] : [{ name, layers }];
});

describe("shading of cells", () => {
  it.each(withCells)("$name: cells of unequal size are shaded by number per area", ({ layers }) => {
    for (const { data, encoding } of layers) {
      const cells = data!.values as readonly Cell[];
      const areas = cells.map(({ x, x2, y, y2 }) => (x2 - x) * (y2 - y));
      const isEqual = areas.every((area) => Math.abs(area - areas[0]!) < 1e-9);
      if (isEqual && encoding?.color?.field === "n") continue;
      expect(encoding?.color?.field).toBe("density");
      for (const [at, { n, density }] of cells.entries()) {
        expect(density! / (n / areas[at]!)).toBeCloseTo(1, 1);
      }
    }
  });

  it("is looked at in single planes, panels, linked views and the double-angle plane", () => {
    const names = withCells.map(({ name }) => name);
    for (const name of [
      "difference-against-mean",
      "difference-panels",
      "linked-public",
      "double-angle",
    ]) {
      expect(names).toContain(name);
    }
  });
});
