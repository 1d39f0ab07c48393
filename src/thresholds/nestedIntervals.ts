import { quantileSorted } from "simple-statistics";
import type { Performance, PerformanceMeasures } from "../accuracy/index.js";
import { type Estimate, type Undefined, undefinedBecause } from "../results/index.js";

/**
 * Corrected performance with percentile limits of the nested (two-stage) bootstrap: each outer
 * replicate makes its own choice and corrects it by inner replicates. Approximate: coverage by
 * simulation is in the room's README; that of a rate which the criterion constrains is too low.
 *
 * @param nested sensitivity and specificity of each outer replicate, NaN where it failed
 */
export function nestedIntervals(
  corrected: Performance,
  nested: Float64Array,
  level: number,
  fewSites = false,
): PerformanceMeasures {
  const pairs: [number, number][] = [];
  for (let at = 0; at < nested.length; at += 2) {
    if (Number.isFinite(nested[at])) pairs.push([nested[at], nested[at + 1]]);
  }
  const limits = (value: number, replicates: number[]): Estimate | Undefined => {
    if (fewSites) {
      return undefinedBecause("fewer than 40 sites: their bootstrap gives no interval that holds");
    }
    if (replicates.length < 20) {
      return undefinedBecause("fewer than 20 nested replicates: no interval of corrected values");
    }
    const sorted = replicates.sort((a, b) => a - b);
    return {
      kind: "estimate",
      value,
      low: quantileSorted(sorted, (1 - level) / 2),
      high: quantileSorted(sorted, (1 + level) / 2),
      level,
      method: "nested-bootstrap, approximate",
    };
  };
  return {
    sensitivity: limits(
      corrected.sensitivity,
      pairs.map(([a]) => a),
    ),
    specificity: limits(
      corrected.specificity,
      pairs.map(([, b]) => b),
    ),
    youdenIndex: limits(
      corrected.youdenIndex,
      pairs.map(([a, b]) => a + b - 1),
    ),
  };
}

/**
 * From so many children on the nested interval of a chosen cut-off is taken to hold: 95 % intervals of
 * sensitivity and Youden index held in .81 to .91 up to 150 children, .92 to .94 with 200 and 500 (the
 * coverage grid, area about .95).
 */
const enoughChildren = 200;

/** What has to stand beside the interval of a chosen cut-off with few children; null where it has not. */
export const fewChildrenWords = (children: number): string | null =>
  children < enoughChildren
    ? `${children} children: with fewer than ${enoughChildren} the interval of a chosen cut-off covers too little (of 95 % ones .81 to .91 in simulation).`
    : null;
