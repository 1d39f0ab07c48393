import { effectiveSites, type JackknifeScale, jackknifeEstimate } from "../../inference/index.js";
import type { Estimate, Undefined } from "../../results/index.js";
import {
  type ClusterColumns,
  type Clusters,
  childrenOf,
  conditionCodes,
  hasChildren,
  type PositiveWhen,
  requireNumbers,
  sitesOf,
  takeRows,
  type YesNoColumn,
} from "../../rows/index.js";
import { countByValue } from "../countByValue.js";
import { requireBothClasses } from "../rocCurve.js";
import { areaCovariance } from "./areaCovariance.js";
import { rowDeviations } from "./areaUnderCurve.js";
import { placements } from "./placements.js";

/** Areas of several tests on the same rows, with their covariance. */
export interface JointAreas {
  readonly n: number;
  readonly subjects?: number;
  readonly areas: readonly number[];
  readonly covariance: readonly (readonly number[])[];
  readonly method: string;
  /** Sites above children, and the interval of a number of the areas by a jackknife over them. */
  readonly sites?: {
    readonly count: number;
    readonly interval: (
      statistic: (areas: readonly number[]) => number,
      scale: JackknifeScale,
      level: number,
    ) => Estimate | Undefined;
  };
}

export function jointAreas(
  caller: string,
  tests: readonly { readonly name: string; readonly values: ArrayLike<number> }[],
  rows: ClusterColumns & { readonly condition: YesNoColumn },
  directions: readonly PositiveWhen[],
): JointAreas {
  const codes = conditionCodes(caller, "condition", rows.condition);
  const found = hasChildren(rows) ? childrenOf(caller, rows, codes.length) : null;
  const sites = found && sitesOf(caller, rows, found);
  const clusters = found?.repeated ? found : null;
  const parts = tests.map(({ name, values }, at) => {
    requireNumbers(caller, name, values, codes.length);
    const counts = countByValue(caller, { values, condition: codes }, directions[at]);
    requireBothClasses(caller, counts);
    const components = placements(counts);
    return {
      counts,
      area: components.area,
      deviations: rowDeviations(counts, components, values, codes),
    };
  });
  return {
    n: codes.length,
    ...(found === null ? {} : { subjects: found.count }),
    ...(sites ? { sites: overSites(tests, codes, directions, sites) } : {}),
    areas: parts.map(({ area }) => area),
    covariance: areaCovariance(
      parts.map(({ deviations }) => deviations),
      codes,
      clusters,
      parts[0].counts,
    ),
    method: clusters === null ? "delong" : "obuchowski",
  };
}

/** Areas of all rows and of those without each site. */
function overSites(
  tests: readonly { readonly values: ArrayLike<number> }[],
  codes: Uint8Array,
  directions: readonly PositiveWhen[],
  sites: Clusters,
): NonNullable<JointAreas["sites"]> {
  const all = [...codes.keys()];
  const areasOf = (rows: readonly number[]): number[] | null => {
    const condition = takeRows(codes, rows);
    if (!condition.includes(0) || !condition.includes(1)) return null;
    return tests.map(({ values }, at) => {
      const part = { values: takeRows(values, rows), condition };
      return placements(countByValue("compareAreas", part, directions[at])).area;
    });
  };
  const whole = areasOf(all)!;
  const without = Array.from({ length: sites.count }, (_, site) =>
    areasOf(all.filter((row) => sites.ofRow[row] !== site)),
  );
  const sizes = [new Float64Array(sites.count), new Float64Array(sites.count)];
  for (const row of all) sizes[codes[row]][sites.ofRow[row]]++;
  const [controls, cases] = sizes.map((size) => Array.from(size));
  return {
    count: sites.count,
    interval: (statistic, scale, level) =>
      jackknifeEstimate({
        value: statistic(whole),
        leftOut: without.map((areas) => areas && statistic(areas)),
        denominators: effectiveSites(cases) < effectiveSites(controls) ? cases : controls,
        scale,
        level,
      }),
  };
}
