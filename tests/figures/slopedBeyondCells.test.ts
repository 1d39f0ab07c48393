import { expect, test } from "vitest";
import * as figures from "../../src/figures/index.js";
import { drawnPicture } from "../../src/figures/render/drawnPicture.js";
import { limits, pairs, regression } from "./cases.js";

test("a band beyond the outermost cells is cut, so that the plane keeps its room", async () => {
  const beyond = {
    ...regression,
    band: {
      ...regression.band,
      points: [-30, 0, 25].map((at) => ({
        at,
        lower: [-3, -1] as const,
        upper: [0.4, 2] as const,
      })),
    },
  };
  const draw = (sloped: typeof regression) =>
    figures.differenceAgainstMeanFigure(limits, pairs, { regression: sloped as never });
  const [near, far] = await Promise.all([regression, beyond].map((one) => drawnPicture(draw(one))));
  expect(far!.edges).toEqual([]);
  // The longest line of an axis is as wide as the plane.
  const width = (svg: string) =>
    Math.max(...[...svg.matchAll(/<line [^>]*x2="(\d+(?:\.\d+)?)"/g)].map(([, x]) => Number(x)));
  expect(width(far!.svg)).toBeGreaterThan(0.9 * width(near!.svg));
});
