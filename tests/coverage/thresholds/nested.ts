// Nested bootstrap interval of corrected performance: how often does it hold the true rates of the
// cut-off that was chosen?
import { normalCdf, normalQuantile } from "../../../src/inference/distributions.js";
import { createRandom } from "../../../src/inference/random.js";
import { wilsonLimits } from "../../../src/inference/wilsonInterval.js";
import {
  type Criterion,
  chooseThreshold,
  type ThresholdRows,
} from "../../../src/thresholds/index.js";
import { oneEye, pairs } from "./areas.js";

export interface NestedStudy {
  readonly criterion: Criterion;
  /** Area of the values without steps. */
  readonly area: number;
  /** Rows with and without the condition; of paired eyes: their expected numbers. */
  readonly cases: number;
  readonly controls: number;
  /** One eye a child, or two with correlated values and conditions. */
  readonly eyes: "one" | "paired";
  readonly step: number;
  readonly outer: number;
  readonly inner: number;
}

const measures = ["sensitivity", "specificity", "youdenIndex"] as const;
type ByMeasure = { readonly [measure in (typeof measures)[number]]: number };

export interface NestedStudyResult extends NestedStudy {
  readonly cohorts: number;
  /** Cohorts with a choice and an interval. */
  readonly estimable: number;
  /** Share of intervals that hold the rates of the cohort's own cut-off in new children. */
  readonly ofOwnCutOff: ByMeasure;
  /** Share that hold the mean of those rates over cohorts. */
  readonly ofMeanCutOff: ByMeasure;
  /** For comparison: Wilson's interval of the apparent rates, as if the cut-off had been fixed. */
  readonly apparentWilson: { readonly sensitivity: number; readonly specificity: number };
  readonly meanWidth: ByMeasure;
  /** Corrected value minus that of the own cut-off in new children, mean over cohorts. */
  readonly bias: ByMeasure;
}

interface Cohort {
  readonly truth: ByMeasure;
  readonly corrected: ByMeasure;
  readonly low: ByMeasure;
  readonly high: ByMeasure;
  readonly apparentHolds: readonly [boolean, boolean];
}

/** Two normal distributions of SD 1, a distance apart, values on a grid; 95 % intervals. */
export async function nestedCoverage(
  study: NestedStudy,
  cohorts: number,
  seed: number,
): Promise<NestedStudyResult> {
  const distance = Math.SQRT2 * normalQuantile(study.area);
  const random = createRandom(seed);
  const found: Cohort[] = [];
  for (let cohort = 0; cohort < cohorts; cohort++) {
    random.restart(seed, cohort);
    const rows =
      study.eyes === "one" ? oneEye(study, distance, random) : pairs(study, distance, random);
    const one = await oneCohort(study, rows, distance, cohort);
    if (one !== null) found.push(one);
  }
  const share = (holds: (cohort: Cohort) => boolean) =>
    rounded(found.filter(holds).length / found.length);
  const mean = (of: (cohort: Cohort) => number) =>
    found.reduce((sum, cohort) => sum + of(cohort), 0) / found.length;
  const each = (of: (measure: (typeof measures)[number]) => number) =>
    Object.fromEntries(measures.map((measure) => [measure, rounded(of(measure))])) as ByMeasure;
  const centre = each((measure) => mean(({ truth }) => truth[measure]));
  return {
    ...study,
    cohorts,
    estimable: found.length,
    ofOwnCutOff: each((m) => share(({ truth, low, high }) => inside(truth[m], low[m], high[m]))),
    ofMeanCutOff: each((m) => share(({ low, high }) => inside(centre[m], low[m], high[m]))),
    apparentWilson: {
      sensitivity: share(({ apparentHolds }) => apparentHolds[0]),
      specificity: share(({ apparentHolds }) => apparentHolds[1]),
    },
    meanWidth: each((m) => mean(({ low, high }) => high[m] - low[m])),
    bias: each((m) => mean(({ corrected, truth }) => corrected[m] - truth[m])),
  };
}

async function oneCohort(
  { criterion, step, outer, inner }: NestedStudy,
  rows: ThresholdRows,
  distance: number,
  seed: number,
): Promise<Cohort | null> {
  const choice = await chooseThreshold(rows, {
    positiveWhen: "high",
    criterion,
    seed,
    replicates: 400,
    folds: 2,
    repeats: 1,
    nested: { outer, inner },
  });
  const { cutOff, corrected, correctedIntervals: intervals, table } = choice;
  // a value is referred from half a step below the cut-off on
  const at = cutOff === null ? Number.POSITIVE_INFINITY : cutOff - step / 2;
  const truth = rates(1 - normalCdf(at - distance), normalCdf(at));
  const limits = measures.map((measure) => intervals[measure]);
  if (limits.some(({ kind }) => kind === "undefined")) return null;
  const end = (name: "low" | "high") =>
    Object.fromEntries(
      measures.map((measure, index) => {
        const limit = limits[index]!;
        return [measure, limit.kind === "undefined" ? Number.NaN : limit[name]];
      }),
    ) as ByMeasure;
  const { truePositive, falseNegative, trueNegative, falsePositive } = table;
  const z = normalQuantile(0.975);
  const wilson = (hits: number, misses: number, wanted: number) => {
    const [low, high] = wilsonLimits(hits, hits + misses, z);
    return inside(wanted, low, high);
  };
  return {
    truth,
    corrected,
    low: end("low"),
    high: end("high"),
    apparentHolds: [
      wilson(truePositive, falseNegative, truth.sensitivity),
      wilson(trueNegative, falsePositive, truth.specificity),
    ],
  };
}

function rates(sensitivity: number, specificity: number): ByMeasure {
  return { sensitivity, specificity, youdenIndex: sensitivity + specificity - 1 };
}

const inside = (value: number, low: number, high: number) => low <= value && value <= high;
const rounded = (value: number) => Number(value.toFixed(4));

/** The grid of the long study. */
export function allNestedStudies(): NestedStudy[] {
  const grid = { step: 0.25, outer: 200, inner: 40 };
  const sizes = [
    [20, 80],
    [50, 200],
    [100, 400],
  ];
  const one = (["youden", { specificityAtLeast: 0.9 }] as const).flatMap((criterion) =>
    [0.8, 0.95].flatMap((area) =>
      sizes.map(
        ([cases, controls]): NestedStudy => ({
          ...grid,
          criterion,
          area,
          cases,
          controls,
          eyes: "one",
        }),
      ),
    ),
  );
  const paired = [0.8, 0.95].map(
    (area): NestedStudy => ({
      ...grid,
      criterion: "youden",
      area,
      cases: 50,
      controls: 200,
      eyes: "paired",
    }),
  );
  return [...one, ...paired];
}
