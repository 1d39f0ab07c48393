// What every room says of the same rows, against the truth of the generator.
import {
  accuracyFromCounts,
  clusteredAccuracy,
  crossClassify,
} from "../../../src/accuracy/index.js";
import {
  limitsOfAgreement,
  pairedTTest,
  regressionLimits,
  repeatability,
  withinDifference,
} from "../../../src/agreement/index.js";
import { createRandom } from "../../../src/inference/random.js";
import { areaUnderCurve, chooseThreshold } from "../../../src/thresholds/index.js";
import {
  biasAt,
  errorOf,
  type Generator,
  type GridRows,
  limit,
  population,
  spreadAt,
} from "./generators.js";

/** An interval as a room gives it: an end that the data do not reach is null. */
interface Limits {
  readonly low?: number | null;
  readonly high?: number | null;
  readonly level?: number;
}

/** Whether one interval held, null where there is none, and the level that is printed with it. */
export interface Measured {
  readonly interval: string;
  readonly holds: boolean | null;
  readonly level: number;
}

export interface Found {
  readonly interval: string;
  readonly found: Limits & { readonly kind: string };
  readonly truth: number;
}

/** An end that the data do not reach counts as infinite. */
export function measured({ interval, found, truth }: Found): Measured {
  const { low = null, high = null, level = 0.95 } = found;
  const given = found.kind === "estimate" || found.kind === "one-sided";
  const holds = (low === null || low <= truth + 1e-9) && (high === null || truth <= high + 1e-9);
  return { interval, holds: given ? holds : null, level };
}

const z = 1.959963984540054;

export interface Truth {
  readonly bias: number;
  readonly lowerNormal: number;
  readonly upperNormal: number;
  readonly lowerPercentile: number;
  readonly upperPercentile: number;
  readonly within: number;
  readonly sensitivity: number;
  readonly specificity: number;
  readonly positivePredictiveValue: number;
  readonly youdenIndex: number;
  readonly positiveLikelihoodRatio: number;
  readonly area: number;
  readonly slope: number;
  /** Quantiles of one error over its spread, 2.5 and 97.5 %. */
  readonly quantiles: readonly [number, number];
}

export function truthOf(generator: Generator): Truth {
  const { test, reference, condition } = population(generator);
  const n = test.length;
  const differences = test.map((value, row) => value - reference[row]);
  const bias = differences.reduce((sum, one) => sum + one, 0) / n;
  const spread = Math.sqrt(differences.reduce((sum, one) => sum + (one - bias) ** 2, 0) / n);
  const sorted = differences.slice().sort();
  const cells = [0, 0, 0, 0];
  for (let row = 0; row < n; row++) {
    cells[2 * condition[row] + (test[row] >= limit - 1e-9 ? 1 : 0)]++;
  }
  const sensitivity = cells[3] / (cells[2] + cells[3]);
  const specificity = cells[0] / (cells[0] + cells[1]);
  const area = areaUnderCurve({ values: test, condition }, { positiveWhen: "high" });
  let [sums, squares, products] = [0, 0, 0];
  const means = test.map((value, row) => (value + reference[row]) / 2);
  const centre = means.reduce((sum, one) => sum + one, 0) / n;
  for (let row = 0; row < n; row++) {
    squares += (means[row] - centre) ** 2;
    products += (means[row] - centre) * (differences[row] - bias);
    sums += Math.abs(differences[row]) <= 0.5 + 1e-9 ? 1 : 0;
  }
  const random = createRandom(5, 5);
  const errors = Float64Array.from({ length: 400_000 }, () => errorOf(generator, random)).sort();
  return {
    bias,
    lowerNormal: bias - z * spread,
    upperNormal: bias + z * spread,
    lowerPercentile: sorted[Math.floor(0.025 * n)],
    upperPercentile: sorted[Math.ceil(0.975 * n) - 1],
    within: sums / n,
    sensitivity,
    specificity,
    positivePredictiveValue: cells[3] / (cells[1] + cells[3]),
    youdenIndex: sensitivity + specificity - 1,
    positiveLikelihoodRatio: sensitivity / (1 - specificity),
    area: area.kind === "undefined" ? Number.NaN : area.value,
    slope: products / squares,
    quantiles: [errors[Math.floor(0.025 * 400_000)], errors[Math.ceil(0.975 * 400_000) - 1]],
  };
}

/** What is named to a function of whose the rows are. */
export function named({ subjects, site }: GridRows, by: "rows" | "subjects" | "clusters") {
  if (by === "rows") return {};
  return by === "subjects" ? { subjects } : { clusters: { subject: subjects, site } };
}

/** Everything that is cheap, on one sample; `by` says what is named to the functions. */
export function measureAll(
  rows: GridRows,
  truth: Truth,
  by: "rows" | "subjects" | "clusters",
): Measured[] {
  const { test, reference, condition } = rows;
  const whose = named(rows, by);
  const data = { test, reference, ...whose };
  const limits = limitsOfAgreement(data, { normality: "skip" });
  const found: Found[] = [
    { interval: "bias", found: limits.bias, truth: truth.bias },
    { interval: "t-test", found: pairedTTest(data).difference, truth: truth.bias },
    { interval: "limit, normal: lower", found: limits.lower, truth: truth.lowerNormal },
    { interval: "limit, normal: upper", found: limits.upper, truth: truth.upperNormal },
    { interval: "slope on the mean", found: limits.slope, truth: truth.slope },
    {
      interval: "share within 0.50 D",
      found: withinDifference(data, { acceptable: [0.5] }).shares[0].within,
      truth: truth.within,
    },
  ];
  if (limits.percentile.kind !== "undefined") {
    const { lower, upper } = limits.percentile;
    found.push(
      { interval: "limit, percentile: lower", found: lower, truth: truth.lowerPercentile },
      { interval: "limit, percentile: upper", found: upper, truth: truth.upperPercentile },
    );
  }
  const referred = Uint8Array.from(test, (value) => (value >= limit - 1e-9 ? 1 : 0));
  const columns = { test: referred, reference: condition };
  const accuracy =
    by === "rows"
      ? accuracyFromCounts(crossClassify(columns))
      : clusteredAccuracy({ ...columns, ...whose });
  for (const measure of [
    "sensitivity",
    "specificity",
    "positivePredictiveValue",
    "youdenIndex",
    "positiveLikelihoodRatio",
  ] as const) {
    found.push({ interval: measure, found: accuracy[measure], truth: truth[measure] });
  }
  found.push({
    interval: "area",
    found: areaUnderCurve({ values: test, condition, ...whose }, { positiveWhen: "high" }),
    truth: truth.area,
  });
  return found.map(measured);
}

/** Conditional limits at two magnitudes, and the simultaneous band over its whole range. */
export function measureConditional(
  generator: Generator,
  rows: GridRows,
  truth: Truth,
  by: "rows" | "subjects" | "clusters",
): Measured[] {
  const { band, points } = regressionLimits(
    { test: rows.test, reference: rows.reference, ...named(rows, by) },
    { at: [0, 3] },
  );
  // With sites, or coarse steps (both of the form "level"), the limits are those of all rows together.
  const limitAt = (magnitude: number, side: 0 | 1) =>
    generator.sites > 0 || generator.step === 0.25
      ? [truth.lowerPercentile, truth.upperPercentile][side]
      : biasAt(generator, magnitude) + spreadAt(generator, magnitude) * truth.quantiles[side];
  const each = points.flatMap((point) =>
    (["lower", "upper"] as const).map((name, side) =>
      measured({
        interval: `limit, conditional: ${name}`,
        found: point[name],
        truth: limitAt(point.at, side as 0 | 1),
      }),
    ),
  );
  const interval = "limits, conditional: simultaneous band";
  if (band.kind === "undefined") return [...each, { interval, holds: null, level: 0.95 }];
  const within = ([low, high]: readonly [number, number], wanted: number) =>
    low <= wanted && wanted <= high;
  const holds = band.points.every(
    ({ at, lower, upper }) => within(lower, limitAt(at, 0)) && within(upper, limitAt(at, 1)),
  );
  return [...each, { interval, holds, level: band.level }];
}

/** Rates of a cut-off chosen on the rows, against those of that very cut-off in new children. */
export async function measureChosen(
  generator: Generator,
  { test, condition }: GridRows,
  seed: number,
): Promise<Measured[]> {
  // Folds are not looked at: the fewest. Intervals as by default.
  const found = await chooseThreshold(
    { values: test, condition },
    { positiveWhen: "high", criterion: "youden", seed, replicates: 200, folds: 2, repeats: 1 },
  );
  const others = newChildren(generator);
  const cutOff = found.cutOff ?? Number.POSITIVE_INFINITY;
  const referred = [0, 0];
  const all = [0, 0];
  for (let row = 0; row < others.test.length; row++) {
    all[others.condition[row]]++;
    if (others.test[row] >= cutOff - 1e-9) referred[others.condition[row]]++;
  }
  const [sensitivity, specificity] = [referred[1] / all[1], 1 - referred[0] / all[0]];
  const truths = { sensitivity, specificity, youdenIndex: sensitivity + specificity - 1 };
  return (["sensitivity", "specificity", "youdenIndex"] as const).map((measure) =>
    measured({
      interval: `chosen cut-off: ${measure}`,
      found: found.correctedIntervals[measure],
      truth: truths[measure],
    }),
  );
}

const populations = new Map<string, GridRows>();
export function newChildren(generator: Generator): GridRows {
  const key = JSON.stringify(generator);
  const known = populations.get(key) ?? population(generator);
  populations.set(key, known);
  return known;
}

/** Two readings of one eye of each child, whose SDs differ by a lognormal factor of 0.5. */
export function measureRepeats(children: number, seed: number, stream: number): Measured[] {
  const random = createRandom(seed, stream);
  const values: number[] = [];
  const units: number[] = [];
  for (let child = 0; child < children; child++) {
    const magnitude = 1 + 1.6 * random.normal();
    const within = 0.25 * Math.exp(0.5 * random.normal());
    for (let repeat = 0; repeat < 2; repeat++) {
      values.push(magnitude + within * random.normal());
      units.push(child);
    }
  }
  const truth = 0.25 * Math.exp(0.25);
  return (["jackknife", "chi-square"] as const).map((interval) =>
    measured({
      interval: `within-eye SD, ${interval}`,
      found: repeatability({ values, units }, { interval }).withinSd,
      truth,
    }),
  );
}
