import { normalCdf, normalQuantile } from "../inference/index.js";
import { caution, type Estimate, type Undefined, undefinedBecause } from "../results/index.js";
import { percent } from "../rows/index.js";
import { areaLimits } from "../thresholds/index.js";
import {
  type AreaVarianceParts,
  binormalVariance,
  exponentialVariance,
  obuchowskiVariance,
} from "./areaVariance.js";
import { halfWidthOf } from "./expectedInterval.js";
import { checkedStudy, studySchemas } from "./schema.js";
import { nobodyIsEnough, tableSizes } from "./shared.js";
import { smallestEnough } from "./smallestStaying.js";
import type { AreaStudy } from "./studies.js";

/** What a study of so many children is expected to give. */
export interface AreaPlanRow {
  /** Children enrolled. */
  readonly n: number;
  readonly withCondition: number;
  readonly withoutCondition: number;
  readonly area: Estimate | Undefined;
  /** Area minus second area; null without a second test. */
  readonly difference: Estimate | null;
  readonly power: number | null;
}

/** How many children a study of an area needs, and what it is expected to give. */
export interface AreaPlan {
  readonly kind: "area-plan";
  readonly aim: "half-width" | "above" | "difference";
  /** Children to enrol. */
  readonly n: number | Undefined;
  readonly wanted: number | null;
  readonly wantedPower: number | null;
  /** Children without the condition for each with it. */
  readonly ratio: number;
  readonly level: number;
  readonly method: "binormal" | "obuchowski" | "hanley-mcneil";
  readonly test: "interval" | "null-variance" | null;
  /** At n. */
  readonly planned: AreaPlanRow | null;
  readonly table: readonly AreaPlanRow[];
  readonly assumptions: readonly string[];
  readonly caution: string;
}

/**
 * How many children a study of an area under the ROC curve needs: for an interval of a wanted
 * half-width, to show that the area exceeds a stated one, or that two areas read in the same
 * children differ.
 *
 * The interval is the one of `areaUnderCurve`: on the logit scale, with a t quantile by Welch's
 * degrees of freedom. The variance is expected from two normal distributions, exactly ("binormal",
 * default) or by the formula of Obuchowski and McClish 1997, which is on the safe side, or from two
 * exponential ones (Hanley and McNeil 1982). A difference is tested by z,
 * as in `compareAreas`; "null-variance" takes 2 V (1 - r) of the first area where there is none
 * (Hanley and McNeil 1982). r is the correlation of the two areas, not of the readings. With r = 0 it is that of
 * two groups, each of n children.
 *
 * Areas are proportions, 0.5 to 1. `n` is undefined, with its reason, where the expected area does
 * not exceed the stated one, or the two expected areas are equal.
 *
 * @throws when the plan has unknown members or a number out of its range
 *
 * @example
 * planAreaStudy({ expected: { area: 0.85, prevalence: 0.2 }, aim: { halfWidth: 0.05 } }).n // => 352
 * planAreaStudy({ expected: { area: 0.8, prevalence: 0.5 }, aim: { above: 0.5, power: 0.9 }, test: "null-variance", level: 0.9, variance: "obuchowski" }).n // => 27
 */
export function planAreaStudy(study: AreaStudy): AreaPlan {
  const checked = checkedStudy("planAreaStudy", studySchemas().area, study);
  const { expected, aim, variance = "binormal", level = 0.95, lost = 0 } = checked;
  const { test = "interval" } = checked;
  const { area, prevalence, second } = expected;
  const partsOf = {
    binormal: binormalVariance,
    obuchowski: obuchowskiVariance,
    "hanley-mcneil": exponentialVariance,
  }[variance];
  const total = ({ ofCases, ofControls }: AreaVarianceParts) => ofCases + ofControls;
  const z = normalQuantile((1 + level) / 2);

  const rowAt = (n: number): AreaPlanRow => {
    const cases = n * (1 - lost) * prevalence;
    const controls = n * (1 - lost) * (1 - prevalence);
    const rows = { n, withCondition: cases, withoutCondition: controls };
    if (cases < 2 || controls < 2) {
      const none = undefinedBecause(
        "fewer than 2 children are expected to have, or lack, the condition",
      );
      return { ...rows, area: none, difference: null, power: null };
    }
    const parts = partsOf(area, cases, controls);
    const se = Math.sqrt(total(parts));
    const df =
      total(parts) ** 2 /
      (parts.ofCases ** 2 / (cases - 1) + parts.ofControls ** 2 / (controls - 1));
    const limits = areaLimits(area, se, level, { method: variance, scale: "logit", df, pairs: 0 });
    const { low, high, method } = limits;
    const estimate: Estimate = { kind: "estimate", value: area, low, high, level, method, se };
    let power: number | null = null;
    let difference: Estimate | null = null;
    if ("above" in aim) {
      if (test === "null-variance") {
        const nullSe = Math.sqrt(total(partsOf(aim.above, cases, controls)));
        power = normalCdf((area - aim.above - z * nullSe) / se);
      } else {
        // the found area at which the lower end, with its own standard error, reaches the stated one
        const lowAt = (found: number) => {
          const own = partsOf(found, cases, controls);
          const method = { method: variance, scale: "logit", df, pairs: 0 } as const;
          return areaLimits(found, Math.sqrt(total(own)), level, method).low;
        };
        let [from, to] = [aim.above, 1 - 1e-9];
        for (let step = 0; step < 50; step++) {
          const middle = (from + to) / 2;
          if (lowAt(middle) > aim.above) to = middle;
          else from = middle;
        }
        power = normalCdf((logit(area) - logit(to)) / (se / (area * (1 - area))));
      }
    }
    if (second !== undefined && "differencePower" in aim) {
      const first = total(parts);
      const other = total(partsOf(second.area, cases, controls));
      const both = first + other - 2 * second.correlation * Math.sqrt(first * other);
      const none = 2 * first * (1 - second.correlation);
      const value = area - second.area;
      const seOfBoth = Math.sqrt(both);
      const tested = test === "null-variance" ? Math.sqrt(none) : seOfBoth;
      power = normalCdf((Math.abs(value) - z * tested) / seOfBoth);
      difference = {
        kind: "estimate",
        value,
        low: value - z * seOfBoth,
        high: value + z * seOfBoth,
        level,
        method: variance,
        se: seOfBoth,
      };
    }
    return { ...rows, area: estimate, difference, power };
  };

  const wantedPower =
    "power" in aim ? aim.power : "differencePower" in aim ? aim.differencePower : null;
  const enough = (n: number) => {
    const row = rowAt(n);
    if (row.area.kind === "undefined") return false;
    return "halfWidth" in aim ? halfWidthOf(row.area) <= aim.halfWidth : row.power! >= wantedPower!;
  };
  const n =
    whyNone(checked) ??
    smallestEnough(enough, { from: 4 }) ??
    nobodyIsEnough("halfWidth" in aim ? `a half-width of ${aim.halfWidth}` : "the power");
  return {
    kind: "area-plan",
    aim: "halfWidth" in aim ? "half-width" : "above" in aim ? "above" : "difference",
    n,
    wanted: "halfWidth" in aim ? aim.halfWidth : "above" in aim ? aim.above : null,
    wantedPower,
    ratio: (1 - prevalence) / prevalence,
    level,
    method: variance,
    test: "halfWidth" in aim ? null : test,
    planned: typeof n === "number" ? rowAt(n) : null,
    table: tableSizes(checked.at, n).map(rowAt),
    assumptions: assumptionsOf(checked),
    caution,
  };
}

const logit = (share: number): number => Math.log(share / (1 - share));

function whyNone({ expected, aim }: AreaStudy): Undefined | null {
  const { area, second } = expected;
  if ("above" in aim && area <= aim.above) {
    return undefinedBecause(`the expected area of ${area} does not exceed ${aim.above}`);
  }
  if (second !== undefined && second.area === area) {
    return undefinedBecause("the two expected areas are equal: no number shows a difference");
  }
  return null;
}

function assumptionsOf(study: AreaStudy): readonly string[] {
  const { expected, aim, variance = "binormal", level = 0.95, lost = 0, test } = study;
  const { area, prevalence, second } = expected;
  const shapes = variance === "hanley-mcneil" ? "exponential" : "normal with equal SD";
  const said = [
    `The area is ${area} and ${percent(prevalence)} of the study's children have the condition: guesses, on which every number here rests.`,
    `Readings with and without the condition are ${shapes} after some rising transformation (variance: ${variance}).`,
    "One value a child; every child is examined, whatever the reading.",
    lost > 0
      ? `${percent(lost)} of children are lost, whether or not they have the condition.`
      : "No child is lost.",
  ];
  if (second !== undefined) {
    said.push(
      `The second test has an area of ${second.area}; the two areas correlate by ${second.correlation}${second.correlation === 0 ? ", as those of two groups of n children each do" : ", read in the same children"}. Two-sided z test at ${percent(1 - level)}.`,
    );
  } else if ("above" in aim) {
    said.push(
      test === "null-variance"
        ? `One-sided z test at ${percent((1 - level) / 2)}, with the variance at ${aim.above} where that is true.`
        : `An area above ${aim.above} is shown by the lower end of the ${percent(level)} interval; the power is approximate (normal on the logit scale).`,
    );
  } else {
    said.push(
      "The half-width is half the width of the logit interval, were exactly the expected area found.",
    );
  }
  return said;
}
