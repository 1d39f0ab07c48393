import type { Estimate, TwoByTwo, Undefined } from "../results/index.js";
import { type Draws, examinedRows } from "../rows/index.js";
import { candidatesOf } from "./candidates.js";
import { drawnUnits, type PreparedRows, prepareRows, type ThresholdRows } from "./prepareRows.js";
import { drawnRates, ratesOverSites, tableOf } from "./weightedRates.js";

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
  /** Sites above the children, where `clusters` were given; then nothing is drawn. */
  readonly sites?: number;
  readonly method: string;
  readonly replicates?: number;
  readonly seed?: number;
  /** Resamples in which a stratum had no examined row. */
  readonly failed?: number;
  readonly notes: readonly string[];
}

/**
 * Accuracy of a fixed cut-off from weighted rows, percentile intervals from a bootstrap of children
 * (rows without `subjects`); weights of `examination` are estimated anew in each resample. A share of
 * exactly 0 or 1 has Wilson's limits on the effective number of rows, at most the number of children,
 * and the Youden index square-and-add of its two rates' limits. With sites: delete-one-site jackknifes.
 */
export function weightedAccuracy(
  caller: string,
  data: ThresholdRows,
  { positiveWhen, cutOff, level, draws }: WeightedRun,
): { readonly accuracy: WeightedAccuracy; readonly rows: PreparedRows } {
  const rows = prepareRows(caller, data, positiveWhen);
  const through = candidatesOf(caller, rows, [cutOff]).through[1];
  const { weights, examined } = weightsOf(caller, data);
  const source = { rows, data, weights, cutOff, through };
  const { estimate, ...run } =
    rows.sites === null ? drawnRates(source, { level, ...draws! }) : ratesOverSites(source, level);
  const verified = rows.weighting === "examination";
  const accuracy: WeightedAccuracy = {
    kind: "weighted-accuracy",
    weighting: verified ? "examination" : "known",
    table: tableOf(rows.counts, through),
    examined: examined.reduce((sum, code) => sum + code, 0),
    sensitivity: estimate("sensitivity"),
    specificity: estimate("specificity"),
    youdenIndex: estimate("youdenIndex"),
    positivePredictiveValue: estimate("positivePredictiveValue"),
    negativePredictiveValue: estimate("negativePredictiveValue"),
    prevalence: estimate("prevalence"),
    method: rows.sites === null ? `bootstrap of ${drawnUnits(rows)}` : "site-jackknife",
    ...run,
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
  /** Undefined with sites. */
  readonly draws: Draws | undefined;
}

/** Weight of each row; 0 where it was not examined. */
function weightsOf(caller: string, { condition, weights, examination }: ThresholdRows) {
  const n = condition.length;
  if (examination !== undefined) return examinedRows(caller, examination, n);
  return { weights: weights ?? new Float64Array(n).fill(1), examined: new Uint8Array(n).fill(1) };
}
