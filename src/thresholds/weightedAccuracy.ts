import { quantileSorted } from "simple-statistics";
import { youdenOfRates } from "../accuracy/index.js";
import { type CellCounts, cellSampler, createRandom, wilsonEstimate } from "../inference/index.js";
import {
  type Estimate,
  type TwoByTwo,
  type Undefined,
  undefinedBecause,
} from "../results/index.js";
import { examinedRows, reaches } from "../rows/index.js";
import { candidatesOf } from "./candidates.js";
import { type PreparedRows, prepareRows, type ThresholdRows } from "./prepareRows.js";

/** Accuracy of one cut-off where rows are weighted. */
export interface WeightedAccuracy {
  readonly kind: "weighted-accuracy";
  readonly weighting: "known" | "examination";
  /** Sums of weights. */
  readonly table: TwoByTwo;
  /** Rows whose finding is known. */
  readonly examined: number;
  readonly sensitivity: Estimate | Undefined;
  readonly specificity: Estimate | Undefined;
  readonly youdenIndex: Estimate | Undefined;
  readonly positivePredictiveValue: Estimate | Undefined;
  readonly negativePredictiveValue: Estimate | Undefined;
  readonly prevalence: Estimate | Undefined;
  readonly method: string;
  readonly replicates: number;
  readonly seed: number;
  /** Resamples in which a stratum had no examined row. */
  readonly failed: number;
  readonly notes: readonly string[];
}

const measures = [
  "sensitivity",
  "specificity",
  "youdenIndex",
  "positivePredictiveValue",
  "negativePredictiveValue",
  "prevalence",
] as const;
type Measure = (typeof measures)[number];
type Values = { readonly [measure in Measure]: number };

/**
 * Accuracy of a fixed cut-off from weighted rows, percentile intervals from a bootstrap of children
 * (rows without `subjects`); weights of `examination` are estimated anew in each resample. A share of
 * exactly 0 or 1 has Wilson's limits on the effective number of rows, at most the number of children,
 * and the Youden index square-and-add of its two rates' limits.
 */
export function weightedAccuracy(
  caller: string,
  data: ThresholdRows,
  { positiveWhen, cutOff, level, seed, replicates }: WeightedRun,
): { readonly accuracy: WeightedAccuracy; readonly rows: PreparedRows } {
  const rows = prepareRows(caller, data, positiveWhen);
  const through = candidatesOf(caller, rows, [cutOff]).through[1];
  const table = tableOf(rows.counts, through);
  const values = valuesOf(table);
  const sample = cellSampler(rows.units);
  const random = createRandom(seed);
  const drawn: Values[] = [];
  for (let replicate = 0; replicate < replicates; replicate++) {
    random.restart(seed, replicate);
    const counts = sample(random);
    if (counts !== null) drawn.push(valuesOf(tableOf(counts, through)));
  }
  const { weights, examined } = weightsOf(caller, data);
  const estimate = (measure: Measure): Estimate | Undefined => {
    const value = values[measure];
    if (!Number.isFinite(value)) return undefinedBecause(`nothing to divide by for ${measure}`);
    if (measure !== "youdenIndex" && (value === 0 || value === 1)) {
      const size = effectiveRows(data, weights, rows, { measure, cutOff });
      return wilsonEstimate(value, size, level, "wilson-effective-rows");
    }
    if (measure === "youdenIndex" && (atRate(values, 0) || atRate(values, 1))) {
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
  const verified = rows.weighting === "examination";
  const accuracy: WeightedAccuracy = {
    kind: "weighted-accuracy",
    weighting: verified ? "examination" : "known",
    table,
    examined: examined.reduce((sum, code) => sum + code, 0),
    sensitivity: estimate("sensitivity"),
    specificity: estimate("specificity"),
    youdenIndex: estimate("youdenIndex"),
    positivePredictiveValue: estimate("positivePredictiveValue"),
    negativePredictiveValue: estimate("negativePredictiveValue"),
    prevalence: estimate("prevalence"),
    method: rows.clusters === null ? "bootstrap of rows" : "bootstrap of children",
    replicates,
    seed,
    failed: replicates - drawn.length,
    notes: [
      verified
        ? "Examined rows stand for the unexamined of their stratum: right only if examination was random within it."
        : "The weights are taken as known.",
      ...(rows.clusters === null ? ["Rows were taken as independent children."] : []),
    ],
  };
  return { accuracy, rows };
}

interface WeightedRun {
  readonly positiveWhen: PreparedRows["positiveWhen"];
  readonly cutOff: number;
  readonly level: number;
  readonly seed: number;
  readonly replicates: number;
}

function tableOf({ withCondition, withoutCondition }: CellCounts, through: number): TwoByTwo {
  const table = { truePositive: 0, falsePositive: 0, falseNegative: 0, trueNegative: 0 };
  for (let cell = 0; cell < withCondition.length; cell++) {
    const referred = cell < through;
    table[referred ? "truePositive" : "falseNegative"] += withCondition[cell];
    table[referred ? "falsePositive" : "trueNegative"] += withoutCondition[cell];
  }
  return table;
}

function valuesOf(table: TwoByTwo): Values {
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

/** Weight of each row; 0 where it was not examined. */
function weightsOf(caller: string, { condition, weights, examination }: ThresholdRows) {
  const n = condition.length;
  if (examination !== undefined) return examinedRows(caller, examination, n);
  return { weights: weights ?? new Float64Array(n).fill(1), examined: new Uint8Array(n).fill(1) };
}

/** Rows behind a share, as many as equal weights would need; at most the children behind it. */
function effectiveRows(
  { values, condition }: ThresholdRows,
  weights: ArrayLike<number>,
  { positiveWhen, clusters }: PreparedRows,
  { measure, cutOff }: { readonly measure: Measure; readonly cutOff: number },
): number {
  const children = new Set<number>();
  let total = 0;
  let squares = 0;
  for (let row = 0; row < weights.length; row++) {
    const weight = weights[row];
    if (!(weight > 0)) continue;
    const referred = reaches(values[row], cutOff, positiveWhen);
    const has = Boolean(condition[row]);
    const counts =
      measure === "sensitivity"
        ? has
        : measure === "specificity"
          ? !has
          : measure === "positivePredictiveValue"
            ? referred
            : measure === "negativePredictiveValue"
              ? !referred
              : true;
    if (!counts) continue;
    total += weight;
    squares += weight * weight;
    children.add(clusters === null ? row : clusters.ofRow[row]);
  }
  return Math.min((total * total) / squares, children.size);
}

const atRate = ({ sensitivity, specificity }: Values, rate: 0 | 1): boolean =>
  sensitivity === rate || specificity === rate;
