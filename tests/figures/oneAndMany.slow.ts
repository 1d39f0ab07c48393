import { describe, expect, it } from "vitest";
import {
  biasBy,
  calibrateReading,
  doubleAngleSummary,
  foldedDistribution,
  limitsOfAgreement,
  nonparametricLimits,
  repeatability,
  vectorAgreement,
} from "../../src/agreement/index.js";
import { shareDistributions } from "../../src/cohort/index.js";
import * as figures from "../../src/figures/index.js";
import { drawnPicture } from "../../src/figures/render/drawnPicture.js";
import { createRandom } from "../../src/inference/index.js";
import { type FigureSpec, undefinedBecause } from "../../src/results/index.js";
import { rocCurve } from "../../src/thresholds/rocCurve.js";
import { partOf } from "../builders/partOf.js";

const audiences = ["public", "journal"] as const;
type Audience = (typeof audiences)[number];
const none = undefinedBecause("one eye");
const vector = { M: -1.25, J0: -1.35, J45: 0.1 };
const pair = { test: [-1.5], reference: [-1.25] };
const line = { n: 1, slope: none, intercept: none };

/** Each figure that is drawn from eyes, from a single one. */
const ofOne: { readonly [name: string]: (audience: Audience) => FigureSpec } = {
  "difference against mean": (audience) =>
    figures.differenceAgainstMeanFigure({ n: 1, bias: none, lower: none, upper: none }, pair, {
      audience,
      histogram: true,
    }),
  "double angle": (audience) =>
    figures.doubleAngleFigure([{ label: "right eyes", n: 1, ellipses: [], points: [vector] }], {
      audience,
    }),
  "method regression": (audience) =>
    figures.methodRegressionFigure({ Deming: line }, pair, { audience, range: [-3, 1] }),
  repeatability: (audience) =>
    figures.repeatabilityFigure(
      partOf<Parameters<typeof figures.repeatabilityFigure>[0]>({
        n: 2,
        units: 1,
        withinSd: none,
        coefficient: none,
        magnitudeSlope: none,
      }),
      { mean: [-1], sd: [0.25] },
      { audience },
    ),
  "share histogram": (audience) =>
    figures.shareHistogramFigure(
      shareDistributions({ all: [-1.25] }, { smallestBin: audience === "journal" ? 1 : 11 }),
      { quantity: "spherical equivalent", audience },
    ),
};

describe.each(Object.entries(ofOne))("%s of a single eye", (_, draw) => {
  it.each(audiences)("is drawn without a warning for the audience %s", async (audience) => {
    const figure = draw(audience);
    const { warnings, edges } = await drawnPicture(figure);
    expect(warnings).toEqual([]);
    expect(edges).toEqual([]);
    const values: unknown[] = [];
    JSON.stringify(figure.spec, (_, item) => {
      if (Array.isArray(item?.values)) values.push(...item.values);
      return item;
    });
    // nothing of the eye for the public; its two rounded numbers, or its bin, for a journal
    const places = JSON.stringify(values);
    const eye = /-1\.(4|35|25|5)\b|"x":-1\b|"from"/;
    expect(eye.test(places)).toBe(audience === "journal");
    expect(figure.caption).not.toContain("NaN");
    expect(figure.alt).not.toContain("NaN");
  });
});

describe("results of a single eye", () => {
  it("are refused with what is wanted and what came", () => {
    expect(() => limitsOfAgreement(pair)).toThrow(/limitsOfAgreement requires at least \d/);
    expect(() => nonparametricLimits(pair)).toThrow("at least 3 rows, got 1");
    expect(() => calibrateReading(pair)).toThrow("at least 10 rows, got 1");
    expect(() => doubleAngleSummary({ vectors: [vector] })).toThrow(/requires at least 5/);
    expect(() => vectorAgreement({ test: [vector], reference: [vector] })).toThrow(
      /requires at least 5/,
    );
    const groups = biasBy({ ...pair, by: ["all"] }, { label: "site" });
    expect(figures.biasByFigure(groups).alt).toContain("all not shown");
    expect(figures.biasByFigure(groups, { audience: "journal" }).alt).toContain("not estimated");
    expect(foldedDistribution(pair).points).toHaveLength(1);
    expect(() => rocCurve({ values: [1], condition: [1] }, { positiveWhen: "high" })).toThrow(
      /rocCurve requires/,
    );
  });
});

const n = 100_000;
const random = createRandom(11);
const normal = (spread: number) => Array.from({ length: n }, () => spread * random.normal());
const reference = normal(2.5);
const test = reference.map((value) => value + 0.4 * random.normal());
const vectors = Array.from({ length: n }, () => ({
  M: random.normal(),
  J0: 0.4 * random.normal(),
  J45: 0.2 * random.normal(),
}));
const still = vectors.map(() => ({ M: 0, J0: 0, J45: 0 }));

const ofMany: { readonly [name: string]: (audience: Audience) => FigureSpec } = {
  "difference against mean": (audience) =>
    figures.differenceAgainstMeanFigure(
      limitsOfAgreement({ test, reference }),
      { test, reference },
      { audience, histogram: true },
    ),
  "double angle": (audience) => {
    const { centroid, eyes } = doubleAngleSummary({ vectors }).ellipses;
    const panel = { label: "right eyes", n, ellipses: [centroid, eyes], points: vectors };
    return figures.doubleAngleFigure([panel, { ...panel, label: "left eyes" }], { audience });
  },
  "vector projections": (audience) =>
    figures.vectorProjectionsFigure(vectorAgreement({ test: vectors, reference: still }), vectors, {
      audience,
    }),
  "method regression": (audience) =>
    figures.methodRegressionFigure(
      { Deming: line },
      { test, reference },
      { audience, range: [-8, 8] },
    ),
  calibration: (audience) =>
    figures.calibrationFigure(
      calibrateReading({ test, reference }),
      { test, reference },
      { audience },
    ),
  repeatability: (audience) =>
    figures.repeatabilityFigure(
      repeatability({ values: test, units: test.map((_, at) => Math.floor(at / 2)) }),
      { mean: test, sd: test.map(Math.abs) },
      { audience },
    ),
  "folded differences": (audience) =>
    figures.foldedDifferencesFigure(
      nonparametricLimits({ test, reference }),
      { test, reference },
      { audience },
    ),
  "share histogram": (audience) =>
    figures.shareHistogramFigure(
      shareDistributions({ test, reference }, { smallestBin: audience === "journal" ? 1 : 11 }),
      { quantity: "spherical equivalent", audience },
    ),
  roc: (audience) =>
    figures.rocFigure(
      rocCurve({ values: test, condition: reference.map((x) => x <= -3) }, { positiveWhen: "low" }),
      undefined,
      { audience, marked: [{ cutOff: -3, origin: "pre-specified" }] },
    ),
  "rates along the limit": (audience) =>
    figures.ratesAlongLimitFigure(
      rocCurve({ values: test, condition: reference.map((x) => x <= -3) }, { positiveWhen: "low" }),
      { audience, limit: -3 },
    ),
};

describe.each(Object.entries(ofMany))("%s of 100,000 eyes", (_, draw) => {
  it.each(audiences)(
    "is under 1 MB for the audience %s",
    async (audience) => {
      const { svg, warnings, edges } = await drawnPicture(draw(audience));
      expect(warnings).toEqual([]);
      expect(edges).toEqual([]);
      expect(svg.length).toBeLessThan(1_000_000);
    },
    60_000,
  );
});
