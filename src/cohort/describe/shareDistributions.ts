import { mean, quantileSorted } from "simple-statistics";
import { smallestCount } from "../../privacy/index.js";
import { InputError } from "../../results/index.js";
import { requireNumbers, requireWhole } from "../../rows/index.js";
import { sampleDeviation, spreadOf, standardised } from "./standardisedDifference.js";

/** Values from `from` (included) to `to` (left out). */
export interface ShareBin {
  readonly from: number;
  readonly to: number;
  readonly count: number;
  /** Per cent of the group for each unit of the quantity: the area of a group's bins is 100. */
  readonly percentPerUnit: number;
}

export interface GroupDistribution {
  readonly group: string;
  readonly n: number;
  /** Type 7; null in an empty group. */
  readonly median: number | null;
  readonly lowerQuartile: number | null;
  readonly upperQuartile: number | null;
  readonly mean: number | null;
  /** Null below two values. */
  readonly sd: number | null;
  readonly bins: readonly ShareBin[];
  /** Values in none of the bins: the ends, or all, where they are too few to be shown. */
  readonly outsideBins: number;
}

/** One quantity in several groups, in the same bins. */
export interface ShareDistributions {
  readonly kind: "share-distributions";
  readonly n: number;
  readonly bin: number;
  /** The least number of values that a bin holds. */
  readonly smallestBin: number;
  readonly groups: readonly GroupDistribution[];
  /** First group minus second, in SDs (Austin 2009), where there are two that vary; else null. */
  readonly standardisedDifference: number | null;
}

/**
 * Distributions of one quantity in groups, as shares of each: examined against not examined, or one
 * age band against another.
 *
 * Bins of equal width around multiples of it are joined with their neighbours until each holds
 * `smallestBin` values; an end that had to be joined is left out, because it would show where the
 * outermost value lies. A group that cannot fill a bin has none. Descriptive: no interval, since
 * both eyes of a child may be in it.
 *
 * @param groups values by the name of the group
 * @param options `bin`: width, 0.5 by default; `smallestBin`: 11 by default, 1 for a journal
 * @throws when a value is not finite, the width not positive, or the least count not whole
 *
 * @example
 * shareDistributions({ examined: [-1, -1.5, 0, 1] }, { smallestBin: 1 }).groups[0].median // => -0.5
 */
export function shareDistributions(
  groups: { readonly [name: string]: ArrayLike<number> },
  options: { readonly bin?: number; readonly smallestBin?: number } = {},
): ShareDistributions {
  const { bin = 0.5, smallestBin = smallestCount } = options;
  if (!(bin > 0 && Number.isFinite(bin))) {
    throw new InputError(`shareDistributions requires a positive width of bins, got ${bin}`);
  }
  requireWhole("shareDistributions", "smallestBin", smallestBin, 1);
  const values = Object.entries(groups).map(([group, list]) => ({ group, list: Array.from(list) }));
  for (const { group, list } of values) {
    requireNumbers("shareDistributions", group, list, list.length);
  }
  const [first, second, ...more] = values;
  return {
    kind: "share-distributions",
    n: values.reduce((sum, { list }) => sum + list.length, 0),
    bin,
    smallestBin,
    groups: values.map(({ group, list }) => distributionOf(group, list, bin, smallestBin)),
    standardisedDifference:
      first === undefined || second === undefined || more.length > 0
        ? null
        : standardised(spreadOf(first.list), spreadOf(second.list)),
  };
}

function distributionOf(
  group: string,
  list: readonly number[],
  bin: number,
  smallestBin: number,
): GroupDistribution {
  const n = list.length;
  const sorted = [...list].sort((a, b) => a - b);
  const quartile = (share: number) => (n === 0 ? null : quantileSorted(sorted, share));
  const bins = binsOf(list, bin, smallestBin).map(({ from, to, count }) => ({
    from,
    to,
    count,
    percentPerUnit: (100 * count) / n / (to - from),
  }));
  return {
    group,
    n,
    median: quartile(0.5),
    lowerQuartile: quartile(0.25),
    upperQuartile: quartile(0.75),
    mean: n === 0 ? null : mean([...list]),
    sd: n < 2 ? null : sampleDeviation([...list]),
    bins,
    outsideBins: n - bins.reduce((sum, { count }) => sum + count, 0),
  };
}

interface Joined {
  readonly from: number;
  readonly to: number;
  readonly count: number;
}

function binsOf(list: readonly number[], bin: number, smallestBin: number): readonly Joined[] {
  const counts = new Map<number, number>();
  for (const value of list) {
    const at = Math.floor(value / bin + 0.5);
    counts.set(at, (counts.get(at) ?? 0) + 1);
  }
  const places = [...counts.keys()].sort((a, b) => a - b);
  const bins: Joined[] = [];
  let open: Joined | undefined;
  for (const [at, place] of places.entries()) {
    const from: number = open?.from ?? (at === 0 ? place : places[at - 1]! + 1);
    open = { from, to: place + 1, count: (open?.count ?? 0) + counts.get(place)! };
    if (open.count < smallestBin) continue;
    // an empty stretch before a full bin is one of its own where bins need not be joined
    if (smallestBin === 1 && from < place) bins.push({ from, to: place, count: 0 });
    bins.push(smallestBin === 1 ? { ...open, from: place } : open);
    open = undefined;
  }
  if (open !== undefined) {
    const before = bins.pop();
    if (before === undefined) return [];
    bins.push({ from: before.from, to: open.to, count: before.count + open.count });
  }
  // an end that was joined from several bins would show where the outermost value lies
  const isJoined = ({ from, to }: Joined) => smallestBin > 1 && to - from > 1;
  while (bins.length > 0 && isJoined(bins[0]!)) bins.shift();
  while (bins.length > 0 && isJoined(bins.at(-1)!)) bins.pop();
  const edge = (place: number) => Number(((place - 0.5) * bin).toFixed(10));
  return bins.map(({ from, to, count }) => ({ from: edge(from), to: edge(to), count }));
}
