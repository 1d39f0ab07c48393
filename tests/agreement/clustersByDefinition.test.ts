import { mean, quantileSorted, sampleStandardDeviation, sum } from "simple-statistics";
import { describe, expect, it } from "vitest";
import {
  concordanceCorrelation,
  intraclassCorrelation,
  limitsOfAgreement,
  nonparametricLimits,
  surveyLimits,
  weightedLimits,
} from "../../src/agreement/index.js";
import { createRandom, tQuantile } from "../../src/inference/index.js";
import { known } from "../known.js";

const z = 1.959963984540054;

/** Children of one to three eyes' rows, so that no two ways of averaging agree by chance. */
function invented(children: number, seed: number) {
  const random = createRandom(seed);
  const out = { test: [] as number[], reference: [] as number[], subjects: [] as number[] };
  for (let child = 0; child < children; child++) {
    const shared = 0.5 * random.normal();
    for (let row = 0; row <= child % 3; row++) {
      const reference = 1 + 1.5 * random.normal();
      out.reference.push(reference);
      out.test.push(0.8 * reference + shared + 0.3 * random.normal());
      out.subjects.push(child);
    }
  }
  return out;
}

describe("bootstrap over children", () => {
  const data = invented(25, 7);
  const differences = data.test.map((value, row) => value - data.reference[row]);
  const options = { interval: "bootstrap", replicates: 40, seed: 9, level: 0.9 } as const;
  const found = limitsOfAgreement(data, { ...options, conditional: "skip" });
  // Each resample once more, its children renamed, through the limits that have no resamples.
  const random = createRandom(9);
  const drawn = Array.from({ length: 40 }, (_, replicate) => {
    random.restart(9, replicate);
    const rows = Array.from({ length: 25 }, () => random.integer(25)).flatMap((child, place) =>
      data.subjects.flatMap((one, row) => (one === child ? [{ row, place }] : [])),
    );
    return limitsOfAgreement(
      {
        test: rows.map(({ row }) => data.test[row]),
        reference: rows.map(({ row }) => data.reference[row]),
        subjects: rows.map(({ place }) => place),
      },
      { conditional: "skip", normality: "skip" },
    );
  });

  it.each(["bias", "sd", "lower", "upper"] as const)("%s", (name) => {
    const sorted = drawn.map((one) => one[name].value).sort((a, b) => a - b);
    expect(found[name].low).toBeCloseTo(quantileSorted(sorted, 0.05), 10);
    expect(found[name].high).toBeCloseTo(quantileSorted(sorted, 0.95), 10);
    expect(found[name]).toMatchObject({ level: 0.9, method: "cluster-bootstrap-percentile" });
    const plain = limitsOfAgreement(data, { conditional: "skip" })[name].value;
    expect(found[name].value).toBeCloseTo(plain, 12);
  });

  it("the variance: between children and within, by the analysis of variance", () => {
    const children = [...new Set(data.subjects)].map((child) =>
      differences.filter((_, row) => data.subjects[row] === child),
    );
    const rows = differences.length;
    const sizes = children.map((own) => own.length);
    const grand = mean(differences);
    const within =
      sum(children.map((own) => sum(own.map((d) => (d - mean(own)) ** 2)))) / (rows - 25);
    const between = sum(children.map((own) => own.length * (mean(own) - grand) ** 2)) / 24;
    const perChild = (rows - sum(sizes.map((size) => size ** 2)) / rows) / 24;
    const { components, sd, bias } = limitsOfAgreement(data, { conditional: "skip" });
    expect(components.withinSubjects).toBeCloseTo(within, 10);
    expect(components.betweenSubjects).toBeCloseTo((between - within) / perChild, 10);
    expect(sd.value ** 2).toBeCloseTo(within + (between - within) / perChild, 10);
    const scores = children.map((own) => sum(own.map((d) => d - grand)));
    const se = Math.sqrt(((25 / 24) * sum(scores.map((one) => one * one))) / rows ** 2);
    expect(bias.high - bias.value).toBeCloseTo(tQuantile(0.975, 24) * se, 10);
    expect(bias.method).toBe("t-clusters");
  });

  it("far from 0 it is the same, but for the place (a constant of 1e7)", () => {
    const far = { ...data, test: data.test.map((value) => value + 1e7) };
    const moved = limitsOfAgreement(far, { conditional: "skip" });
    const plain = limitsOfAgreement(data, { conditional: "skip" });
    expect(moved.sd.value).toBeCloseTo(plain.sd.value, 7);
    expect(moved.upper.high - 1e7).toBeCloseTo(plain.upper.high, 6);
    expect(moved.components.withinSubjects).toBeCloseTo(plain.components.withinSubjects!, 7);
  });
});

describe("repeats of one eye a child", () => {
  it("variance of the eyes' means, and what averaging took away of each method (1999, section 5.2)", () => {
    const eyes = [
      { test: [1, 1.4], reference: [1.2, 0.9] },
      { test: [2, 2.2, 2.9], reference: [1.5, 1.8, 1.4] },
      { test: [0, 0.5], reference: [0.4, 0.1] },
      { test: [3, 2.5, 2.7, 3.1], reference: [2, 2.4, 2.2, 2.9] },
    ];
    const flat = (name: "test" | "reference") => eyes.flatMap((eye) => eye[name]);
    const units = eyes.flatMap((eye, at) => eye.test.map(() => at));
    const found = limitsOfAgreement({ test: flat("test"), reference: flat("reference"), units });
    const means = eyes.map((eye) => mean(eye.test) - mean(eye.reference));
    const within = (name: "test" | "reference") =>
      sum(eyes.map((eye) => sum(eye[name].map((one) => (one - mean(eye[name])) ** 2)))) / 7;
    const lost = mean(eyes.map((eye) => 1 / eye.test.length));
    const ofMeans = sampleStandardDeviation(means) ** 2;
    const { components, sd } = found;
    expect(components.testRepeats).toBeCloseTo(within("test"), 12);
    expect(components.referenceRepeats).toBeCloseTo(within("reference"), 12);
    expect(components.betweenSubjects).toBeCloseTo(
      ofMeans - lost * (within("test") + within("reference")),
      12,
    );
    expect(components).not.toHaveProperty("withinSubjects");
    expect(sd.value ** 2).toBeCloseTo(
      ofMeans + (1 - lost) * (within("test") + within("reference")),
      12,
    );
    expect(found).toMatchObject({ design: "repeats", units: 4, subjects: 4, n: 11 });
  });
});

describe("percentiles of clustered rows", () => {
  // One large site far from the others: an effect beyond the mean size of a site.
  const drawn = invented(150, 3);
  const site = drawn.subjects.map((child) => (child < 50 ? 0 : 1 + (child % 8)));
  const data = {
    ...drawn,
    test: drawn.test.map((value, row) => value + (site[row] === 0 ? 3 : 0.3 * (site[row] % 3))),
  };
  const differences = data.test.map((value, row) => value - data.reference[row]);
  const rows = differences.length;

  /** Variance of the share at or beyond a limit, by ratio estimator over clusters, against p (1 - p) / n. */
  function designEffect(limit: number, above: boolean, clusters: number[], sites: boolean) {
    const beyond = differences.map((d) => Number(above ? d >= limit : d <= limit));
    const p = mean(beyond);
    const labels = [...new Set(clusters)];
    const scores = labels.map((label) =>
      sum(beyond.map((one, row) => (clusters[row] === label ? one - p : 0))),
    );
    const count = labels.length;
    const variance = ((count / (count - 1)) * sum(scores.map((one) => one * one))) / rows ** 2;
    const effect = Math.max(1, (variance * rows) / (p * (1 - p)));
    return sites ? effect : Math.min(effect, rows / count);
  }

  it.each([
    ["children", data.subjects, false, { subjects: data.subjects }],
    ["sites", site, true, { clusters: { subject: data.subjects, site } }],
  ] as const)("design effects of %s, here and beside the limits", (_, labels, sites, whose) => {
    const pairs = { test: data.test, reference: data.reference, ...whose };
    const sorted = [...differences].sort((a, b) => a - b);
    const found = nonparametricLimits(pairs, { coverage: 0.8 });
    for (const [limit, share, above] of [
      [found.lower, 0.1, false],
      [found.median, 0.5, false],
      [found.upper, 0.9, true],
    ] as const) {
      if (limit.kind === "undefined") throw new Error(limit.reason);
      expect(limit.value).toBeCloseTo(quantileSortedOfType7(sorted, share), 12);
      const effect = designEffect(limit.value, above, [...labels], sites);
      expect(effect).toBeGreaterThan(1.05);
      expect(limit.designEffect).toBeCloseTo(effect, 10);
      expect(limit.effectiveRows).toBeCloseTo(rows / effect, 8);
    }
    expect(Object.values(found.percentiles)).toEqual(
      [found.lower, found.median, found.upper].map(({ value }) => value),
    );
    const { percentile } = limitsOfAgreement(pairs, { coverage: 0.8, conditional: "skip" });
    expect(percentile).toMatchObject({ lower: found.lower, upper: found.upper });
    expect(found).toMatchObject({ kind: "nonparametric-limits", n: rows, subjects: 150 });
  });
});

it("a child of many rows: the effect is held at the rows of a child, but not at those of a site", () => {
  const rows = Array.from({ length: 200 }, (_, row) => row);
  const test = rows.map((row) => (row < 80 ? 5 : 0) + Math.sin(row));
  const subjects = rows.map((row) => (row < 80 ? 0 : row));
  const pairs = { test, reference: rows.map(() => 0) };
  const effectOf = (whose: object) => {
    const { percentile } = limitsOfAgreement(
      { ...pairs, ...whose },
      { coverage: 0.4, conditional: "skip" },
    );
    if (percentile.kind === "undefined" || percentile.upper.kind === "undefined") throw Error();
    return percentile.upper.designEffect;
  };
  expect(effectOf({ subjects })).toBe(200 / 121);
  expect(effectOf({ clusters: { subject: rows, site: subjects } })).toBeGreaterThan(30);
});

/** Linear between the ranks at share (n - 1), counted from 0. */
function quantileSortedOfType7(sorted: number[], share: number): number {
  const place = share * (sorted.length - 1);
  const below = Math.floor(place);
  return sorted[below] + (place - below) * (sorted[below + 1] - sorted[below]);
}

it("concordance of children with several rows: a jackknife over children on Fisher's scale", () => {
  const data = invented(20, 12);
  const concordance = (keep: (child: number) => boolean) => {
    const kept = data.subjects.flatMap((child, row) => (keep(child) ? [row] : []));
    const [x, y] = [data.test, data.reference].map((values) => kept.map((row) => values[row]));
    const [mx, my] = [mean(x), mean(y)];
    const squares = (values: number[], middle: number) =>
      mean(values.map((one) => (one - middle) ** 2));
    const covariance = mean(x.map((one, at) => (one - mx) * (y[at] - my)));
    return (2 * covariance) / (squares(x, mx) + squares(y, my) + (mx - my) ** 2);
  };
  const whole = concordance(() => true);
  const left = Array.from({ length: 20 }, (_, out) =>
    Math.atanh(concordance((child) => child !== out)),
  );
  const centre = mean(left);
  const se = Math.sqrt((19 / 20) * sum(left.map((one) => (one - centre) ** 2)));
  const half = tQuantile(0.975, 19) * se;
  const estimate = known(concordanceCorrelation(data).estimate);
  expect(estimate.value).toBeCloseTo(whole, 12);
  expect(estimate.low).toBeCloseTo(Math.tanh(Math.atanh(whole) - half), 10);
  expect(estimate.high).toBeCloseTo(Math.tanh(Math.atanh(whole) + half), 10);
  expect(estimate.se).toBeCloseTo(se * (1 - whole ** 2), 10);
  expect(estimate.method).toBe("fisher-z-jackknife-clusters");
});

it.each([
  ["children", false],
  ["sites", true],
] as const)("known weights: scores of %s, each row by its weight and its distance", (_, sites) => {
  const data = invented(30, 14);
  const n = data.test.length;
  const weights = data.test.map((__, row) => 1 + (row % 4));
  const site = data.subjects.map((child) => child % 7);
  const whose = sites
    ? { clusters: { subject: data.subjects, site } }
    : { subjects: data.subjects };
  const { test, reference } = data;
  const found = weightedLimits({ test, reference, weights, ...whose });
  const d = test.map((value, row) => value - reference[row]);
  const total = sum(weights);
  const weighed = (of: number[]) => sum(of.map((one, row) => weights[row] * one)) / total;
  const bias = weighed(d);
  const rows = total ** 2 / sum(weights.map((one) => one ** 2));
  const variance = (weighed(d.map((one) => (one - bias) ** 2)) * rows) / (rows - 1);
  const sd = Math.sqrt(variance);
  const labels = sites ? site : data.subjects;
  const groups = [...new Set(labels)];
  const sizes = groups.map((label) => labels.filter((one) => one === label).length);
  const df = (sites ? sum(sizes) ** 2 / sum(sizes.map((one) => one ** 2)) : 30) - 1;
  const half = (onBias: number, onSd: number) => {
    const scores = groups.map((label) =>
      sum(
        d.map((one, row) => {
          const away = one - bias;
          const moves = onBias * away + (onSd * (away ** 2 - variance)) / (2 * sd);
          return labels[row] === label ? (weights[row] * moves) / total : 0;
        }),
      ),
    );
    const k = groups.length;
    return tQuantile(0.975, df) * Math.sqrt((k / (k - 1)) * sum(scores.map((one) => one ** 2)));
  };
  for (const [name, value, onBias, onSd] of [
    ["bias", bias, 1, 0],
    ["sd", sd, 0, 1],
    ["lower", bias - z * sd, 1, -z],
    ["upper", bias + z * sd, 1, z],
  ] as const) {
    expect(found[name].value).toBeCloseTo(value, 10);
    expect(found[name].high - value).toBeCloseTo(half(onBias, onSd), 9);
    expect(value - found[name].low).toBeCloseTo(half(onBias, onSd), 9);
  }
  expect(found.effectiveRows).toBeCloseTo(rows, 10);
  expect(found).toMatchObject({
    kind: "weighted-limits",
    n,
    subjects: 30,
    direction: "test-minus-reference",
    ...(sites ? { sites: 7 } : {}),
  });
  expect(found.amongExamined).toEqual(
    limitsOfAgreement({ test, reference, ...whose }, { conditional: "skip" }),
  );
});

describe("limits of a survey", () => {
  const random = createRandom(31);
  const n = 48;
  const index = Array.from({ length: n }, (_, row) => row);
  const test = index.map(() => random.normal());
  const reference = index.map((row) => 0.7 * test[row] + 0.5 * random.normal() - 0.2);
  const weights = index.map((row) => 1 + (row % 5));
  const strata = index.map((row) => Math.floor(row / 16));
  const units = index.map((row) => Math.floor(row / 4) % 4);
  const domain = index.map((row) => row % 7 !== 3);
  const found = surveyLimits({ test, reference, weights, strata, units, domain });

  it("each by the derivative of its weighted formula: how it moves as one row's weight grows", () => {
    const values = (w: number[]) => {
      const total = sum(w);
      const d = index.map((row) => test[row] - reference[row]);
      const bias = sum(index.map((row) => w[row] * d[row])) / total;
      const sd = Math.sqrt(sum(index.map((row) => w[row] * (d[row] - bias) ** 2)) / total);
      return { bias, sd, lower: bias - z * sd, upper: bias + z * sd };
    };
    const own = weights.map((weight, row) => (domain[row] ? weight : 0));
    const step = 1e-5;
    const moved = index.map((row) => {
      const at = (by: number) => values(own.map((w, at) => (at === row ? w + by : w)));
      const [up, down] = [at(step), at(-step)];
      return (name: keyof typeof up) =>
        domain[row] ? (weights[row] * (up[name] - down[name])) / (2 * step) : 0;
    });
    for (const name of ["bias", "sd", "lower", "upper"] as const) {
      // Totals of each stratum's four units about their mean, 4 / 3 times.
      const variance = [0, 1, 2].map((stratum) => {
        const totals = [0, 1, 2, 3].map((unit) =>
          sum(
            index
              .filter((row) => strata[row] === stratum && units[row] === unit)
              .map((row) => moved[row](name)),
          ),
        );
        return (4 / 3) * sum(totals.map((one) => (one - mean(totals)) ** 2));
      });
      const se = Math.sqrt(sum(variance));
      const estimate = known(found[name]);
      expect(estimate.value).toBeCloseTo(values(own)[name], 10);
      expect(estimate.se).toBeCloseTo(se, 6);
      expect(estimate.high - estimate.value).toBeCloseTo(tQuantile(0.975, 9) * se, 5);
      expect(estimate).toMatchObject({ level: 0.95, method: "taylor-t" });
    }
    expect(found).toMatchObject({
      kind: "survey-limits",
      direction: "test-minus-reference",
      assumes: "normal differences",
      strata: 3,
      units: 12,
      df: 9,
    });
  });

  it.each([
    ["one unit in a stratum", { test, reference, weights, strata: index }],
    ["equal differences", { test: [1, 2, 3], reference: [0, 1, 2], weights: [1, 1, 2] }],
  ])("%s: no estimate, one reason", (_, data) => {
    const none = surveyLimits(data);
    expect(none.bias).toMatchObject({ kind: "undefined", reason: expect.stringMatching(/\w{4}/) });
    expect([none.sd, none.lower, none.upper]).toEqual([none.bias, none.bias, none.bias]);
  });
});

// R 4.2.2 with its recommended package nlme (tests/reference/agreement/eyes.R): REML of balanced pairs; its optimiser
// stops within 4e-7
it("two eyes of a child: bias, its error and the variance of one difference are those of a mixed model", () => {
  const test = [
    -0.5, -0.25, 0, 0.25, -0.75, -1, 0.5, 0.25, -0.25, -0.25, 0.75, 0.25, -1.25, -0.75, 0, -0.5,
    0.25, 0.5, -0.5, -0.75, 1.25, 0.75, -0.25, 0,
  ];
  const found = limitsOfAgreement({
    test,
    reference: test.map(() => 0),
    subjects: test.map((_, row) => row >> 1),
  });
  expect(found.bias.value).toBeCloseTo(-0.09375, 14);
  expect(found.sd.value).toBeCloseTo(0.6185269032, 6);
  const error = (found.bias.high - found.bias.value) / tQuantile(0.975, 11);
  expect(error).toBeCloseTo(0.1714223818, 6);
  const pairs = Array.from({ length: 12 }, (_, child) => test.slice(2 * child, 2 * child + 2));
  const { estimate } = intraclassCorrelation(pairs, { form: "ICC(1,1)" });
  expect(known(estimate).value).toBeCloseTo(0.8434404051, 6);
});
