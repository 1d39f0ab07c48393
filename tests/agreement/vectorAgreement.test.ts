import { describe, expect, test } from "vitest";
import { doubleAngleSummary, vectorAgreement } from "../../src/agreement/index.js";
import { ellipseFrom } from "../../src/agreement/vectors/ellipse.js";
import { vectors } from "./children.js";

// Johnson and Wichern, Applied Multivariate Statistical Analysis, Table 5.1: sweat rate, sodium,
// potassium of 20 women; tested against (4, 50, 10).
const sweat = [
  [3.7, 48.5, 9.3],
  [5.7, 65.1, 8],
  [3.8, 47.2, 10.9],
  [3.2, 53.2, 12],
  [3.1, 55.5, 9.7],
  [4.6, 36.1, 7.9],
  [2.4, 24.8, 14],
  [7.2, 33.1, 7.6],
  [6.7, 47.4, 8.5],
  [5.4, 54.1, 11.3],
  [3.9, 36.9, 12.7],
  [4.5, 58.8, 12.3],
  [3.5, 27.8, 9.8],
  [4.5, 40.2, 8.4],
  [1.5, 13.5, 10.1],
  [8.5, 56.4, 7.1],
  [4.5, 71.6, 8.2],
  [6.5, 52.8, 10.9],
  [4.1, 44.1, 11.2],
  [5.5, 40.9, 9.4],
].map(([M, J0, J45]) => ({ M, J0, J45 }));
const against = sweat.map(() => ({ M: 4, J0: 50, J45: 10 }));

describe("published: sweat data (T² 9.7388, F 2.9045, p 0.0649)", () => {
  const result = vectorAgreement({ test: sweat, reference: against });

  test("Hotelling", () => {
    const { hotelling } = result;
    if (hotelling.kind === "undefined") throw new Error(hotelling.reason);
    expect(hotelling.t2).toBeCloseTo(9.7388, 4);
    expect(hotelling.f).toBeCloseTo(2.9045, 4);
    expect(hotelling.p).toBeCloseTo(0.0649, 4);
    expect(hotelling.df).toEqual([3, 17]);
  });

  test("mean and covariance (book values from memory)", () => {
    expect(result.mean.M + 4).toBeCloseTo(4.64, 3);
    expect(result.mean.J0 + 50).toBeCloseTo(45.4, 3);
    expect(result.mean.J45 + 10).toBeCloseTo(9.965, 3);
    expect(result.covariance[0][0]).toBeCloseTo(2.879, 3);
    expect(result.covariance[1][1]).toBeCloseTo(199.788, 3);
    expect(result.covariance[1][2]).toBeCloseTo(-5.64, 3);
  });
});

test("published: ellipse of a bivariate mean, Johnson and Wichern example 5.3 (values from memory)", () => {
  const n = 42;
  const squared = ((2 * (n - 1)) / (n * (n - 2))) * 3.2317; // F(.95; 2, 40) from their table
  const ellipse = ellipseFrom(
    { x: 0.564, y: 0.603 },
    { xx: 0.0144, xy: 0.0117, yy: 0.0146 },
    squared,
    { region: "confidence-of-mean", level: 0.95, method: "hotelling" },
  );
  expect(ellipse.semiAxes[0]).toBeCloseTo(0.064, 3);
  expect(ellipse.angle).toBeCloseTo(45.2448, 3);
});

describe("children data", () => {
  const pairs = vectors("autoref_post");
  const only = (eye: "right" | "left") => {
    const keep = pairs.eyes.map((value) => value === eye);
    const take = <T>(values: T[]) => values.filter((_, row) => keep[row]);
    return {
      test: take(pairs.test),
      reference: take(pairs.reference),
      subjects: take(pairs.subjects),
    };
  };

  test("J45 of the dilated autorefractor: +.017 right, -.021 left, -.002 pooled unmirrored", () => {
    expect(vectorAgreement(only("right")).mean.J45).toBeCloseTo(0.017, 3);
    expect(vectorAgreement(only("left")).mean.J45).toBeCloseTo(-0.021, 3);
    const { eyes: _, ...unmirrored } = pairs;
    expect(vectorAgreement(unmirrored).mean.J45).toBeCloseTo(-0.002, 3);
    expect(vectorAgreement(pairs).mean.J45).toBeCloseTo(0.019, 3);
  });

  test("the ellipse of the centroid lies inside that of the eyes, both about the mean", () => {
    const { ellipses, mean } = doubleAngleSummary({
      vectors: pairs.reference,
      subjects: pairs.subjects,
      eyes: pairs.eyes,
    });
    expect(ellipses.centroid.centre).toEqual({ x: mean.J0, y: mean.J45 });
    expect(ellipses.centroid.semiAxes[0]).toBeLessThan(ellipses.eyes.semiAxes[0] / 5);
    expect(ellipses.nextEye.semiAxes[0]).toBeGreaterThan(ellipses.eyes.semiAxes[0]);
    expect([ellipses.centroid.region, ellipses.eyes.region, ellipses.nextEye.region]).toEqual([
      "confidence-of-mean",
      "plug-in",
      "prediction",
    ]);
  });
});
