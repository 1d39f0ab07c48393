import { expect, it } from "vitest";
import { drawnPicture } from "../../src/figures/render/drawnPicture.js";
import { cases } from "./cases.js";

it.each(cases)(
  "$name: compiles without a warning, at its size, and its ink reaches no page edge",
  async ({ draw }) => {
    const figure = draw();
    const { warnings, edges, widthMm, heightMm, svg } = await drawnPicture(figure);
    expect(warnings).toEqual([]);
    expect(edges).toEqual([]);
    const single = !("hconcat" in figure.spec || "concat" in figure.spec);
    if (single) {
      expect(widthMm).toBeCloseTo(figure.widthMm, 1);
      expect(heightMm).toBeCloseTo(figure.heightMm, 1);
    }
    expect(widthMm).toBeLessThanOrEqual(figure.widthMm + 2);
    // 8 points at the size of print
    const sizes = [...svg.matchAll(/font-size="([\d.]+)px"/g)].map(([, size]) => Number(size));
    expect(Math.min(...sizes)).toBeGreaterThanOrEqual(8);
    expect(svg).toContain(`font-family="'Source Sans 3', sans-serif"`);
  },
);
