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
 * as their units. Weights of `examination` are estimated anew without each site; there is no interval
 * where nobody then stands for a stratum.
 *
 * @param own what each site adds to the denominator; left out, of both classes the one that is spread
 * over fewer sites
 */
export function siteInterval(
  { units, typeOfUnit, counts, siteSizes }: SiteRows,
  statistic: (counts: CellCounts) => number | null,
  scale: JackknifeScale,
  level: number,
  own?: readonly number[],
): Estimate | Undefined {
  const value = statistic(counts);
  if (value === null || !Number.isFinite(value)) return undefinedBecause("no value on all rows");
  const count = cellCounter(units);
  const kept = Int32Array.from(units.counts);
  const leftOut: (number | null)[] = [];
  for (const type of typeOfUnit) {
    kept[type]--;
    const left = count(kept);
    kept[type]++;
    if (left === null) {
      leftOut.push(null);
      continue;
    }
    const both = sum(left.withCondition) > 0 && sum(left.withoutCondition) > 0;
    leftOut.push(both ? statistic(left) : null);
  }
  const sizes = [siteSizes!.withCondition, siteSizes!.withoutCondition].map((one) =>
    Array.from(one),
  );
  return jackknifeEstimate({
    value,
    leftOut,
    denominators:
      own ??
      sizes.reduce((least, other) =>
        effectiveSites(other) < effectiveSites(least) ? other : least,
      ),
    scale,
    level,
  });
}

type SiteRows = Pick<PreparedRows, "units" | "typeOfUnit" | "counts" | "siteSizes">;
