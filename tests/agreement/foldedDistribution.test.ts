import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { foldedDistribution, regionShadow } from "../../src/agreement/index.js";

const column = fc.array(fc.integer({ min: -80, max: 80 }), { minLength: 1, maxLength: 200 });

describe("foldedDistribution", () => {
  it("is the share at or below, or above, by counting", () => {
    fc.assert(
      fc.property(column, (list) => {
        const test = list.map((value) => value / 16);
        const { points, n } = foldedDistribution({ test, reference: test.map(() => 0) });
        for (const { difference, percent } of points) {
          const below = test.filter((value) => value <= difference).length;
          expect(percent).toBeCloseTo((100 * Math.min(below, n - below)) / n, 10);
        }
        expect(points.at(-1)).toMatchObject({ percent: 0 });
        expect(points.at(-1)!.difference).toBeGreaterThanOrEqual(Math.max(...test));
      }),
    );
  });

  it("leaves at least 11 rows between two points and beyond the ends for the public", () => {
    fc.assert(
      fc.property(column, (list) => {
        const test = list.map((value) => value / 16);
        const reference = test.map(() => 0);
        const { points } = foldedDistribution({ test, reference }, { rowsApart: 11 });
        const edges = [-Infinity, ...points.map(({ difference }) => difference), Infinity];
        if (points.length === 0) return;
        for (let at = 1; at < edges.length; at++) {
          const inside = test.filter((value) => value > edges[at - 1]! && value <= edges[at]!);
          expect(inside.length).toBeGreaterThanOrEqual(11);
        }
      }),
    );
  });

  it("refuses unusable options", () => {
    const pairs = { test: [1], reference: [1] };
    expect(() => foldedDistribution(pairs, { step: 0 })).toThrow("positive step");
    expect(() => foldedDistribution({ test: [], reference: [] })).toThrow("at least 1 rows");
  });
});

describe("regionShadow", () => {
  it("reaches as far along an axis as the region itself: root of radius times variance", () => {
    const covariance = [
      [0.4, 0.05, -0.02],
      [0.05, 0.15, 0.01],
      [-0.02, 0.01, 0.03],
    ];
    const region = { region: "plug-in", level: 0.95, method: "chi-square" } as const;
    const shadow = regionShadow(
      { ...region, covariance, squaredRadius: 7.815 },
      { M: -0.25, J0: 0.02, J45: 0.01 },
      ["M", "J45"],
    );
    expect(shadow.centre).toEqual({ x: -0.25, y: 0.01 });
    const turn = (shadow.angle * Math.PI) / 180;
    const [long, short] = shadow.semiAxes;
    // half widths of a turned ellipse
    expect(Math.hypot(long * Math.cos(turn), short * Math.sin(turn))).toBeCloseTo(
      Math.sqrt(7.815 * 0.4),
      12,
    );
    expect(Math.hypot(long * Math.sin(turn), short * Math.cos(turn))).toBeCloseTo(
      Math.sqrt(7.815 * 0.03),
      12,
    );
  });
});
