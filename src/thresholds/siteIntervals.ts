import {
  type CellCounts,
  cellCounter,
  effectiveSites,
  type JackknifeScale,
  jackknifeEstimate,
} from "../inference/index.js";
import { type Estimate, type Undefined, undefinedBecause } from "../results/index.js";
import { sum } from "../rows/index.js";
import type { PreparedRows } from "./prepareRows.js";

/**
 * Any number of the counts by the delete-one-site jackknife, from rows that were prepared with sites
 * as their units. A site's share is its share of the class that is spread over fewer sites.
 */
export function siteInterval(
  { units, typeOfUnit, counts }: Pick<PreparedRows, "units" | "typeOfUnit" | "counts">,
  statistic: (counts: CellCounts) => number | null,
  scale: JackknifeScale,
  level: number,
): Estimate | Undefined {
  const value = statistic(counts);
  if (value === null || !Number.isFinite(value)) return undefinedBecause("no value on all rows");
  const count = cellCounter(units);
  const kept = Int32Array.from(units.counts);
  const leftOut: (number | null)[] = [];
  const sizes = { withCondition: [] as number[], withoutCondition: [] as number[] };
  const classes = ["withCondition", "withoutCondition"] as const;
  const whole = classes.map((name) => sum(counts[name]));
  for (const type of typeOfUnit) {
    kept[type]--;
    // never null: without examination every row has its class
    const left = count(kept)!;
    kept[type]++;
    classes.forEach((name, at) => {
      sizes[name].push(whole[at] - sum(left[name]));
    });
    const both = classes.every((name) => sum(left[name]) > 0);
    leftOut.push(both ? statistic(left) : null);
  }
  return jackknifeEstimate({
    value,
    leftOut,
    denominators: [sizes.withCondition, sizes.withoutCondition].reduce((least, other) =>
      effectiveSites(other) < effectiveSites(least) ? other : least,
    ),
    scale,
    level,
  });
}
