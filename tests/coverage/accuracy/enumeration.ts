import {
  accuracyFromCounts,
  compareIndependentProportions,
  comparePairedProportions,
  predictiveValuesAt,
} from "../../../src/accuracy/index.js";
import { type ProportionMethod, proportionInterval } from "../../../src/inference/index.js";
import type { Estimate, Undefined } from "../../../src/results/index.js";

/** True coverage of one interval at one truth: the summed probability of the outcomes that cover it. */
export interface Cell {
  readonly design: string;
  readonly truth: string;
  readonly coverage: number;
}

/** Binomial probabilities of 0..n. */
export function binomial(n: number, p: number): number[] {
  const logs = [n * Math.log1p(-p)];
  for (let x = 1; x <= n; x++) {
    logs.push(logs[x - 1] + Math.log((n - x + 1) / x) + Math.log(p) - Math.log1p(-p));
  }
  return logs.map(Math.exp);
}

const covers = (interval: Estimate | Undefined, truth: number): boolean =>
  interval.kind === "estimate"
    ? interval.low <= truth && truth <= interval.high
    : interval.low === undefined || interval.low <= truth; // no interval makes no false claim

/** Coverage of a proportion's interval over a grid of n and p. */
export function proportionCoverage(
  method: ProportionMethod,
  sizes: readonly number[],
  shares: readonly number[],
): Cell[] {
  return sizes.flatMap((n) => {
    const intervals = Array.from({ length: n + 1 }, (_, successes) =>
      proportionInterval({ successes, trials: n }, { interval: method }),
    );
    return shares.map((p) => ({
      design: `n ${n}`,
      truth: `p ${p}`,
      coverage: binomial(n, p).reduce(
        (sum, probability, x) => sum + (covers(intervals[x], p) ? probability : 0),
        0,
      ),
    }));
  });
}

/** The measures of two independent proportions, by what is made of (sensitivity, specificity). */
export const twoSampleMeasures = {
  youdenIndex: (se: number, sp: number) => se + sp - 1,
  positiveLikelihoodRatio: (se: number, sp: number) => se / (1 - sp),
  negativeLikelihoodRatio: (se: number, sp: number) => (1 - se) / sp,
  diagnosticOddsRatio: (se: number, sp: number) => (se * sp) / ((1 - se) * (1 - sp)),
} as const;
export type TwoSampleMeasure =
  | keyof typeof twoSampleMeasures
  | "positivePredictiveValueAt2Percent"
  | "differenceOfIndependent";

/** Coverage of a measure over every outcome of n1 children with and n2 without the condition. */
export function twoSampleCoverage(
  measure: TwoSampleMeasure,
  sizes: readonly (readonly [number, number])[],
  truths: readonly (readonly [number, number])[],
): Cell[] {
  return sizes.flatMap(([n1, n2]) => {
    const intervals = Array.from({ length: n1 + 1 }, (_, x1) =>
      Array.from({ length: n2 + 1 }, (_, x2) => twoSampleInterval(measure, x1, n1, x2, n2)),
    );
    return truths.map(([se, sp]) => {
      const truth = twoSampleTruth(measure, se, sp);
      const first = binomial(n1, se);
      const second = binomial(n2, sp);
      let coverage = 0;
      for (let x1 = 0; x1 <= n1; x1++) {
        for (let x2 = 0; x2 <= n2; x2++) {
          if (covers(intervals[x1][x2], truth)) coverage += first[x1] * second[x2];
        }
      }
      return { design: `${n1} with, ${n2} without`, truth: `se ${se}, sp ${sp}`, coverage };
    });
  });
}

function twoSampleInterval(
  measure: TwoSampleMeasure,
  x1: number,
  n1: number,
  x2: number,
  n2: number,
): Estimate | Undefined {
  if (measure === "differenceOfIndependent") {
    return compareIndependentProportions({
      first: { successes: x1, trials: n1 },
      second: { successes: x2, trials: n2 },
    }).difference;
  }
  const table = {
    truePositive: x1,
    falseNegative: n1 - x1,
    trueNegative: x2,
    falsePositive: n2 - x2,
  };
  return measure === "positivePredictiveValueAt2Percent"
    ? predictiveValuesAt({ table, prevalence: 0.02 }).positivePredictiveValue
    : accuracyFromCounts(table)[measure];
}

function twoSampleTruth(measure: TwoSampleMeasure, se: number, sp: number): number {
  if (measure === "differenceOfIndependent") return se - sp;
  if (measure === "positivePredictiveValueAt2Percent") {
    return (0.02 * se) / (0.02 * se + 0.98 * (1 - sp));
  }
  return twoSampleMeasures[measure](se, sp);
}

/** Coverage of the paired difference over every table of n pairs. */
export function pairedCoverage(
  method: "newcombe" | "tango",
  sizes: readonly number[],
  truths: readonly (readonly [number, number, number])[],
): Cell[] {
  return sizes.flatMap((n) => {
    const sums = truths.map(() => 0);
    const factorials = [0];
    for (let i = 1; i <= n; i++) factorials.push(factorials[i - 1] + Math.log(i));
    for (let both = 0; both <= n; both++) {
      for (let firstOnly = 0; both + firstOnly <= n; firstOnly++) {
        for (let secondOnly = 0; both + firstOnly + secondOnly <= n; secondOnly++) {
          const neither = n - both - firstOnly - secondOnly;
          const { difference } = comparePairedProportions(
            { both, firstOnly, secondOnly, neither },
            { interval: method },
          );
          truths.forEach(([p11, p10, p01], i) => {
            if (!covers(difference, p10 - p01)) return;
            const p00 = 1 - p11 - p10 - p01;
            sums[i] += Math.exp(
              factorials[n] -
                factorials[both] -
                factorials[firstOnly] -
                factorials[secondOnly] -
                factorials[neither] +
                both * Math.log(p11) +
                firstOnly * Math.log(p10) +
                secondOnly * Math.log(p01) +
                neither * Math.log(p00),
            );
          });
        }
      }
    }
    return truths.map(([p11, p10, p01], i) => ({
      design: `${n} pairs`,
      truth: `both ${p11}, first ${p10}, second ${p01}`,
      coverage: sums[i],
    }));
  });
}

/** Mean over the grid and the worst cell. */
export function summary(cells: readonly Cell[]) {
  const mean = cells.reduce((sum, { coverage }) => sum + coverage, 0) / cells.length;
  const worst = cells.reduce((least, cell) => (cell.coverage < least.coverage ? cell : least));
  return { cells: cells.length, mean, worst };
}
