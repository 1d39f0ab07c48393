import { requireLevel } from "../../inference/index.js";
import { formerNames, InputError, type Undefined, undefinedBecause } from "../../results/index.js";
import {
  childrenOf,
  conditionCodes,
  examinedRows,
  hasChildren,
  type PositiveWhen,
} from "../../rows/index.js";
import { cellOfRows, countByValue, type ValueCounts } from "../countByValue.js";
import { prepareRows, type ThresholdRows, valueCountsOf } from "../prepareRows.js";
import { areaOfCells } from "../replicates.js";
import { requireChoice } from "../requireChoice.js";
import { siteInterval } from "../siteIntervals.js";
import { type AreaBootstrap, areaByBootstrap } from "./areaByBootstrap.js";
import { type AreaVariance, areaVariance } from "./areaCovariance.js";
import type { AreaEstimate } from "./areaEstimate.js";
import { areaLimits } from "./areaInterval.js";
import { disjointPairs } from "./disjointPairs.js";
import { hanleyMcNeilVariance } from "./hanleyMcNeil.js";
import { type Placements, placements } from "./placements.js";

export interface AreaOptions {
  readonly positiveWhen: PositiveWhen;
  /** 0.95 by default. */
  readonly level?: number;
  /** "delong" by default ("obuchowski" where subjects repeat); "hanley-mcneil" is the 1982 one. */
  readonly variance?: "delong" | "hanley-mcneil";
  /**
   * "logit" by default, with a t quantile; "logit-normal" with a normal one; "plain" is the symmetric
   * normal one, as often printed; "bootstrap" draws children (rows) and needs a seed.
   */
  readonly interval?: "logit" | "logit-normal" | "plain" | "bootstrap";
  /** Of the bootstrap. */
  readonly seed?: number;
  /** Of the bootstrap, 2000 by default. */
  readonly replicates?: number;
}

/**
 * Area under the ROC curve: the probability that a row with the condition has the more suspicious
 * value than one without, ties counting one half (the Mann-Whitney statistic). Values that are one
 * whole thousandth but for binary noise, as S + C/2 leaves it, are tied; no others are rounded.
 *
 * Standard error by DeLong and others 1988 from counts per distinct value, O(n log n); by
 * Obuchowski 1997 where `subjects` repeat. Without `subjects` the rows are taken as independent.
 * The interval is on the logit scale with a t quantile, Welch's degrees of freedom from the two
 * classes (Brunner and Munzel 2000): the normal quantile covers too little where cases are few. At
 * an area of 1 or 0 it is an exact, conservative one and there is no standard error. `interval: "bootstrap"` draws children with all their rows, within
 * `strata` where given. `weights` (inverse probabilities of examination) are taken as known; with
 * `examination` they are estimated from who was examined, anew in each resample. With `clusters:
 * { subject, site }` the interval is a delete-one-site jackknife on the logit scale, for which weights of
 * `examination` are estimated anew without each site; none where nobody then stands for a stratum.
 * An area below 0.5 is reported as it is: look at `positiveWhen`.
 *
 * Undefined when fewer than two children have, or lack, the condition, or all values are tied.
 *
 * @throws on values that are not finite, conditions neither yes nor no, or a missing direction
 *
 * @example
 * areaUnderCurve({ values: [1, 2, 3, 3, 4, 5], condition: [0, 0, 0, 1, 1, 1] }, { positiveWhen: "high" }).value // => 0.9444
 */
export function areaUnderCurve(
  data: ThresholdRows,
  options: AreaOptions,
): AreaEstimate | AreaBootstrap | Undefined {
  const caller = "areaUnderCurve";
  data = formerNames(caller, data, "examination");
  const { level = 0.95, variance = "delong", interval = "logit" } = options ?? {};
  requireLevel(caller, level);
  requireChoice(caller, "variance", ["delong", "hanley-mcneil"], variance);
  requireChoice(caller, "interval", ["logit", "logit-normal", "plain", "bootstrap"], interval);
  const bootstrapped = interval === "bootstrap";
  if (data.clusters !== undefined) return areaOverSites(data, options);
  if (data.examination !== undefined) {
    return bootstrapOf(caller, data, options);
  }
  const counts = countByValue(caller, data, options?.positiveWhen);
  const found = hasChildren(data) ? childrenOf(caller, data, counts.n) : null;
  const clusters = found?.repeated ? found : null;
  if (variance === "hanley-mcneil" && (clusters !== null || counts.weighted)) {
    throw new InputError(
      `${caller} requires variance: "delong" where subjects repeat or rows are weighted, got "hanley-mcneil"`,
    );
  }
  const none = unanswerable(counts);
  if (none !== null) return none;
  const components = placements(counts);
  if (bootstrapped && !isEnd(components.area)) return bootstrapOf(caller, data, options);
  const clustered = clusters !== null || counts.weighted;
  const codes =
    clustered || isEnd(components.area)
      ? conditionCodes(caller, "condition", data.condition)
      : null;
  const variances =
    codes !== null && clustered
      ? areaVariance(
          rowDeviations(counts, components, data.values, codes, data.weights),
          codes,
          clusters,
          counts,
        )
      : countVariance(counts, components);
  if (!Number.isFinite(variances.value)) {
    return undefinedBecause("fewer than two children have, or lack, the condition");
  }
  const byPrint = variance === "hanley-mcneil";
  const squared = byPrint ? hanleyMcNeilVariance(counts, components.area) : variances.value;
  const limits = areaLimits(components.area, Math.sqrt(Math.max(0, squared)), level, {
    method: clusters !== null ? "obuchowski" : counts.weighted ? "weighted-delong" : variance,
    df: interval === "logit" && !byPrint ? degrees(variances) : Number.POSITIVE_INFINITY,
    scale: interval === "plain" ? "plain" : "logit",
    pairs: codes === null ? 0 : disjointPairs(codes, clusters),
  });
  return {
    kind: "estimate",
    value: components.area,
    low: limits.low,
    high: limits.high,
    level,
    method: limits.method,
    ...(limits.se === undefined ? {} : { se: limits.se }),
    n: counts.n,
    withCondition: counts.totalWith,
    withoutCondition: counts.totalWithout,
    ...(found === null ? {} : { subjects: found.count }),
    positiveWhen: options.positiveWhen,
  };
}

/** The area with sites above children: delete-one-site jackknife. */
function areaOverSites(
  data: ThresholdRows,
  { positiveWhen, level = 0.95, variance, interval = "logit" }: AreaOptions,
): AreaEstimate | Undefined {
  const caller = "areaUnderCurve";
  if (interval !== "logit" || variance !== undefined) {
    throw new InputError(
      `${caller} requires the interval of the jackknife over sites with clusters, got ${variance === undefined ? `interval "${interval}"` : `variance "${variance}"`}; leave the option out`,
    );
  }
  const seen = data.examination && examinedRows(caller, data.examination, data.condition.length);
  const codes = conditionCodes(caller, "condition", data.condition, seen?.examined);
  if (!codes.includes(1)) return undefinedBecause("no row has the condition");
  if (!codes.includes(0)) return undefinedBecause("no row is without the condition");
  const rows = prepareRows(caller, data, positiveWhen);
  const counts = valueCountsOf(rows);
  const none = unanswerable(counts);
  if (none !== null) return none;
  const area = siteInterval(rows, areaOfCells, "logit", level);
  if (area.kind === "undefined") return area;
  return {
    ...area,
    n: rows.n,
    withCondition: rows.totalWith,
    withoutCondition: rows.totalWithout,
    subjects: rows.clusters!.count,
    sites: rows.sites!.count,
    positiveWhen,
  };
}

function bootstrapOf(caller: string, data: ThresholdRows, options: AreaOptions) {
  const { seed, interval } = options;
  if (seed === undefined || interval !== "bootstrap") {
    throw new InputError(
      `${caller} requires interval: "bootstrap" with a seed here, got ${JSON.stringify(interval)} and ${seed}`,
    );
  }
  return areaByBootstrap(caller, data, { ...options, seed });
}

/** Why these data have no area, or null. */
function unanswerable(counts: ValueCounts): Undefined | null {
  if (!(counts.totalWith > 0)) return undefinedBecause("no row has the condition");
  if (!(counts.totalWithout > 0)) return undefinedBecause("no row is without the condition");
  if (counts.values.length === 1) {
    return undefinedBecause("all values are tied: they tell nothing apart");
  }
  return null;
}

/** DeLong's variance from counts alone. */
function countVariance(
  counts: ValueCounts,
  { area, ofCases, ofControls }: Placements,
): AreaVariance {
  const { withCondition, withoutCondition, totalWith, totalWithout } = counts;
  let cases = 0;
  let controls = 0;
  for (let cell = 0; cell < ofCases.length; cell++) {
    cases += withCondition[cell] * (ofCases[cell] - area) ** 2;
    controls += withoutCondition[cell] * (ofControls[cell] - area) ** 2;
  }
  const parts = {
    ofCases: cases / ((totalWith - 1) * totalWith),
    ofControls: controls / ((totalWithout - 1) * totalWithout),
  };
  const value = parts.ofCases + parts.ofControls;
  return { value, ...parts, caseUnits: totalWith, controlUnits: totalWithout };
}

/** Welch's degrees of freedom for two parts (Brunner and Munzel 2000). */
function degrees({ ofCases, ofControls, caseUnits, controlUnits }: AreaVariance): number {
  return (
    (ofCases + ofControls) ** 2 /
    (ofCases ** 2 / (caseUnits - 1) + ofControls ** 2 / (controlUnits - 1))
  );
}

/** Each row's placement minus the area, times its weight. */
export function rowDeviations(
  counts: ValueCounts,
  { area, ofCases, ofControls }: Placements,
  values: ArrayLike<number>,
  codes: Uint8Array,
  weights?: ArrayLike<number>,
): Float64Array {
  const cells = cellOfRows(counts, values);
  return Float64Array.from(cells, (cell, row) => {
    const deviation = (codes[row] === 1 ? ofCases[cell] : ofControls[cell]) - area;
    return weights === undefined ? deviation : weights[row] * deviation;
  });
}

const isEnd = (area: number): boolean => area === 1 || area === 0;
