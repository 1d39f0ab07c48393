import { quantileSorted } from "simple-statistics";
import { youdenOfRates } from "../accuracy/index.js";
import { type CellCounts, cellSampler, createRandom, wilsonEstimate } from "../inference/index.js";
import {
  type Estimate,
  type TwoByTwo,
  type Undefined,
  undefinedBecause,
} from "../results/index.js";
import { type Draws, reaches } from "../rows/index.js";
import type { PreparedRows, ThresholdRows } from "./prepareRows.js";
import { siteInterval } from "./siteIntervals.js";

/** Weighted rows and the cut-off that is judged on them. */
interface WeightedSource {
  readonly rows: PreparedRows;
  readonly data: Pick<ThresholdRows, "values" | "condition">;
  readonly weights: ArrayLike<number>;
  readonly cutOff: number;
  /** Cells of the counts that are referred. */
  readonly through: number;
}

type Measure = keyof ReturnType<typeof valuesOf>;
type Estimates = (measure: Measure) => Estimate | Undefined;

/** Percentile intervals of a bootstrap of children, or of rows; see `weightedAccuracy`. */
export function drawnRates(
  source: WeightedSource,
  run: Draws & { readonly level: number },
): Draws & { readonly estimate: Estimates; readonly failed: number } {
  const { rows, through } = source;
  const { level, seed, replicates } = run;
  const values = valuesOf(tableOf(rows.counts, through));
  const sample = cellSampler(rows.units);
  const random = createRandom(seed);
  const drawn: (typeof values)[] = [];
  for (let replicate = 0; replicate < replicates; replicate++) {
    random.restart(seed, replicate);
    const counts = sample(random);
    if (counts !== null) drawn.push(valuesOf(tableOf(counts, through)));
  }
  const estimate: Estimates = (measure) => {
    const value = values[measure];
    if (!Number.isFinite(value)) return undefinedBecause(`nothing to divide by for ${measure}`);
    if (measure !== "youdenIndex" && isEnd(value)) {
      const size = effectiveRows(source, measure);
      return wilsonEstimate(value, size, level, "wilson-effective-rows");
    }
    if (measure === "youdenIndex" && (isEnd(values.sensitivity) || isEnd(values.specificity))) {
      // from the two rates' limits: resamples never doubt a rate of exactly 0 or 1
      return youdenOfRates(estimate("sensitivity"), estimate("specificity"), {
        level,
        method: "mover",
      });
    }
    const found = drawn
      .map((one) => one[measure])
      .filter(Number.isFinite)
      .sort((a, b) => a - b);
    if (found.length < 0.95 * replicates) {
      return undefinedBecause(
        `${replicates - found.length} of ${replicates} resamples had no ${measure}`,
      );
    }
    return {
      kind: "estimate",
      value,
      low: quantileSorted(found, (1 - level) / 2),
      high: quantileSorted(found, (1 + level) / 2),
      level,
      method: rows.clusters === null ? "bootstrap-percentile" : "cluster-bootstrap-percentile",
    };
  };
  return { estimate, replicates, seed, failed: replicates - drawn.length };
}

/** Intervals by a jackknife over sites: shares on the logit scale. */
export function ratesOverSites(
  source: WeightedSource,
  level: number,
): { readonly estimate: Estimates; readonly sites: number } {
  const { rows, through, weights } = source;
  const sites = rows.sites!;
  const estimate: Estimates = (measure) => {
    const of = (counts: CellCounts) => valuesOf(tableOf(counts, through))[measure];
    if (!Number.isFinite(of(rows.counts))) {
      return undefinedBecause(`nothing to divide by for ${measure}`);
    }
    if (measure === "youdenIndex") return siteInterval(rows, of, "plain", level);
    const sizes = new Array<number>(sites.count).fill(0);
    for (const row of rowsBehind(source, measure)) sizes[sites.ofRow[row]] += weights[row];
    return siteInterval(rows, of, "logit", level, sizes);
  };
  return { estimate, sites: sites.count };
}

export function tableOf(
  { withCondition, withoutCondition }: CellCounts,
  through: number,
): TwoByTwo {
  const table = { truePositive: 0, falsePositive: 0, falseNegative: 0, trueNegative: 0 };
  for (let cell = 0; cell < withCondition.length; cell++) {
    const referred = cell < through;
    table[referred ? "truePositive" : "falseNegative"] += withCondition[cell];
    table[referred ? "falsePositive" : "trueNegative"] += withoutCondition[cell];
  }
  return table;
}

function valuesOf(table: TwoByTwo) {
  const { truePositive, falsePositive, falseNegative, trueNegative } = table;
  const sensitivity = truePositive / (truePositive + falseNegative);
  const specificity = trueNegative / (trueNegative + falsePositive);
  return {
    sensitivity,
    specificity,
    youdenIndex: sensitivity + specificity - 1,
    positivePredictiveValue: truePositive / (truePositive + falsePositive),
    negativePredictiveValue: trueNegative / (trueNegative + falseNegative),
    prevalence:
      (truePositive + falseNegative) /
      (truePositive + falseNegative + trueNegative + falsePositive),
  };
}

/** Rows behind a share, as many as equal weights would need; at most the children behind it. */
function effectiveRows(source: WeightedSource, measure: Measure): number {
  const { weights, rows } = source;
  const children = new Set<number>();
  let total = 0;
  let squares = 0;
  for (const row of rowsBehind(source, measure)) {
    total += weights[row];
    squares += weights[row] ** 2;
    children.add(rows.clusters === null ? row : rows.clusters.ofRow[row]);
  }
  return Math.min((total * total) / squares, children.size);
}

/** Rows that a share is of, each with a weight. */
function rowsBehind(
  { data: { values, condition }, weights, rows: { positiveWhen }, cutOff }: WeightedSource,
  measure: Measure,
): number[] {
  const belongs = {
    sensitivity: (row: number) => Boolean(condition[row]),
    specificity: (row: number) => !condition[row],
    positivePredictiveValue: (row: number) => reaches(values[row], cutOff, positiveWhen),
    negativePredictiveValue: (row: number) => !reaches(values[row], cutOff, positiveWhen),
    prevalence: () => true,
    youdenIndex: () => true,
  }[measure];
  return Array.from({ length: weights.length }, (_, row) => row).filter(
    (row) => weights[row] > 0 && belongs(row),
  );
}

const isEnd = (rate: number): boolean => rate === 0 || rate === 1;
