import { quantileSorted } from "simple-statistics";
import { requireLevel } from "../inference/index.js";
import {
  type Estimate,
  formerNames,
  InputError,
  type Undefined,
  undefinedBecause,
} from "../results/index.js";
import { type PositiveWhen, requireWhole } from "../rows/index.js";
import { drawnUnits, type PreparedRows, prepareRows, type ThresholdRows } from "./prepareRows.js";
import { replicateRunner, sensitivityOfCells } from "./replicates.js";
import { siteInterval } from "./siteIntervals.js";

/** Sensitivity at fixed false-positive rates: a pointwise band, with the cut-off left free. */
export interface SensitivityBand {
  readonly kind: "sensitivity-band";
  readonly n: number;
  readonly subjects?: number;
  /** Sites above them, where `clusters` were given. */
  readonly sites?: number;
  readonly points: readonly {
    readonly falsePositiveRate: number;
    readonly sensitivity: Estimate | Undefined;
  }[];
  readonly level: number;
  readonly method: string;
  readonly replicates: number;
  readonly seed: number;
}

/**
 * Sensitivity at fixed false-positive rates, with pointwise percentile limits from a bootstrap of
 * children (rows without `subjects`), or a jackknife over sites with `clusters`: the place on the curve that has the rate is found anew
 * in each replicate. Operating points are joined by straight lines: at a rate that no cut-off has the
 * value lies between those of two cut-offs, at one that several have it is the greatest. A cut-off fixed in advance has a cross instead: `accuracyAtCutOffs`.
 *
 * Cut-offs are in the unit of the values; rates are proportions, 0 to 1.
 *
 * @throws when a rate is outside 0 to 1, the level outside (0, 1), or replicates are fewer than 2
 *
 * @example
 * sensitivityAtRates({ values: [1, 2, 3, 4, 5, 6, 7, 8], condition: [0, 0, 0, 1, 0, 1, 1, 1] }, { positiveWhen: "high", falsePositiveRates: [0.25], seed: 1, replicates: 200 }).points[0].sensitivity.value // => 1
 */
export function sensitivityAtRates(
  data: ThresholdRows,
  options: {
    readonly positiveWhen: PositiveWhen;
    readonly falsePositiveRates: readonly number[];
    readonly seed: number;
    /** 2000 by default. */
    readonly replicates?: number;
    readonly level?: number;
  },
): SensitivityBand {
  const caller = "sensitivityAtRates";
  data = formerNames(caller, data, "examination");
  const { falsePositiveRates: rates, seed, replicates = 2000, level = 0.95 } = options;
  requireLevel(caller, level);
  requireWhole(caller, "replicates", replicates, 2);
  if (!(rates?.length > 0) || !rates.every((rate) => rate >= 0 && rate <= 1)) {
    throw new InputError(`${caller} requires falsePositiveRates from 0 to 1, got [${rates}]`);
  }
  const rows = prepareRows(caller, data, options.positiveWhen);
  if (rows.sites !== null) return bandOverSites(rows, rates, { level, replicates, seed });
  const points = new Float64Array(rates.length);
  sensitivityOfCells(rows.counts, rates, points);
  const found = replicateRunner({
    seed,
    firstStream: 0,
    units: rows.units,
    task: { kind: "band", falsePositiveRates: rates },
  })(0, replicates);
  return {
    kind: "sensitivity-band",
    n: rows.n,
    ...(rows.clusters === null ? {} : { subjects: rows.clusters.count }),
    points: rates.map((falsePositiveRate, at) => {
      const column = Array.from({ length: replicates }, (_, b) => found[b * rates.length + at])
        .filter(Number.isFinite)
        .sort((a, b) => a - b);
      const sensitivity: Estimate | Undefined =
        column.length < 0.95 * replicates
          ? undefinedBecause("more than 5 % of the resamples lacked a class")
          : {
              kind: "estimate",
              value: points[at],
              low: quantileSorted(column, (1 - level) / 2),
              high: quantileSorted(column, (1 + level) / 2),
              level,
              method: "bootstrap-percentile",
            };
      return { falsePositiveRate, sensitivity };
    }),
    level,
    method: `bootstrap of ${drawnUnits(rows)}`,
    replicates,
    seed,
  };
}

function bandOverSites(
  rows: PreparedRows,
  rates: readonly number[],
  run: { readonly level: number; readonly replicates: number; readonly seed: number },
): SensitivityBand {
  const point = new Float64Array(1);
  return {
    kind: "sensitivity-band",
    n: rows.n,
    subjects: rows.clusters!.count,
    sites: rows.sites!.count,
    points: rates.map((falsePositiveRate) => ({
      falsePositiveRate,
      sensitivity: siteInterval(
        rows,
        (counts) => {
          sensitivityOfCells(counts, [falsePositiveRate], point);
          return point[0];
        },
        "logit",
        run.level,
      ),
    })),
    method: "site-jackknife",
    ...run,
  };
}
