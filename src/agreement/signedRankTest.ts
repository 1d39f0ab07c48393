import { twoSidedP } from "../inference/index.js";
import { childrenOf, requirePairs, sitesOf } from "../rows/index.js";
import type { PairedMeasurements } from "./limits/pairedMeasurements.js";

/** Wilcoxon's test that differences lie about 0. */
export interface SignedRankTest {
  readonly kind: "signed-rank-test";
  readonly n: number;
  readonly subjects: number;
  /** Sites above them, where `clusters` were given. */
  readonly sites?: number;
  /** Rows whose difference is 0: left out (Wilcoxon 1945) and counted. */
  readonly zeros: number;
  /** Sum of the ranks of positive differences (test above reference). */
  readonly positiveRanks: number;
  readonly negativeRanks: number;
  readonly z: number | null;
  readonly p: number;
  readonly method: "exact" | "normal" | "clusters" | "exact-sites" | "sites";
}

/**
 * Wilcoxon's signed-rank test that test minus reference is symmetric about 0. Differences of 0 are
 * left out, ties share their mean rank. Exact for up to 50 differences without ties or zeros; else
 * normal with the correction for ties and for continuity; where subjects repeat, signed ranks are
 * summed by child (Rosner, Glynn and Lee 2006). Without subjects, rows of one unit are one child's.
 * With `clusters` they are summed by site: up to 16 sites every way of their signs is counted (5 sites
 * give no p below .0625), beyond that normal.
 *
 * Test and reference are in one unit, dioptres as a rule, and so are the results.
 *
 * @throws when the columns differ in length, hold a value not finite, or have fewer than 2 rows
 *
 * @example
 * signedRankTest({ test: [2, 5, 7, 3], reference: [1, 3, 4, 7] }).p // => 0.875
 */
export function signedRankTest(data: PairedMeasurements): SignedRankTest {
  const caller = "signedRankTest";
  const { test, reference } = data;
  const n = requirePairs(caller, { test, reference }, 2);
  const children = childrenOf(caller, data, n);
  const sites = sitesOf(caller, data, children);
  const clusters = sites ?? children;
  const rows = Array.from({ length: n }, (_, row) => row).filter(
    (row) => test[row] !== reference[row],
  );
  const size = (row: number) => Math.abs(test[row] - reference[row]);
  const { ranks, tieCubes } = midRanks(rows.map(size));
  let [positiveRanks, negativeRanks] = [0, 0];
  const perCluster = new Float64Array(clusters.count);
  rows.forEach((row, index) => {
    const sign = Math.sign(test[row] - reference[row]);
    if (sign > 0) positiveRanks += ranks[index];
    else negativeRanks += ranks[index];
    perCluster[clusters.ofRow[row]] += sign * ranks[index];
  });
  const m = rows.length;
  const base = {
    kind: "signed-rank-test" as const,
    n,
    subjects: children.count,
    ...(sites ? { sites: sites.count } : {}),
    zeros: n - m,
    positiveRanks,
    negativeRanks,
  };
  if (m === 0) return { ...base, z: null, p: 1, method: "normal" };
  if (sites && sites.count <= mostFlipped) {
    return { ...base, z: null, p: flippedP(perCluster), method: "exact-sites" };
  }
  if (clusters.repeated || sites) {
    const square = perCluster.reduce((sum, score) => sum + score * score, 0);
    const z = (positiveRanks - negativeRanks) / Math.sqrt(square);
    return { ...base, z, p: twoSidedP(z), method: sites ? "sites" : "clusters" };
  }
  if (m <= 50 && tieCubes === 0 && m === n) {
    return {
      ...base,
      z: null,
      p: exactP(Math.min(positiveRanks, negativeRanks), m),
      method: "exact",
    };
  }
  const variance = (m * (m + 1) * (2 * m + 1)) / 24 - tieCubes / 48;
  const gap = positiveRanks - (m * (m + 1)) / 4;
  const z = (Math.sign(gap) * Math.max(0, Math.abs(gap) - 0.5)) / Math.sqrt(variance);
  return { ...base, z, p: twoSidedP(z), method: "normal" };
}

/** Ranks from 1, ties at their mean; sum of t³ - t over ties. Sizes equal but for rounding tie. */
function midRanks(sizes: readonly number[]): { ranks: number[]; tieCubes: number } {
  const order = sizes.map((_, index) => index).sort((a, b) => sizes[a] - sizes[b]);
  const ranks = new Array<number>(sizes.length);
  let tieCubes = 0;
  for (let start = 0; start < order.length; ) {
    let end = start + 1;
    const limit = sizes[order[start]] * (1 + 1e-12);
    while (end < order.length && sizes[order[end]] <= limit) end++;
    const tied = end - start;
    tieCubes += tied ** 3 - tied;
    for (let k = start; k < end; k++) ranks[order[k]] = (start + 1 + end) / 2;
    start = end;
  }
  return { ranks, tieCubes };
}

/** Up to so many sites every way of their signs is counted. */
const mostFlipped = 16;

/** Share of all ways of the sites' signs whose sum is at least as far from 0. */
function flippedP(sums: Float64Array): number {
  const seen = Math.abs(sums.reduce((sum, one) => sum + one, 0));
  const ways = 2 ** sums.length;
  let far = 0;
  for (let way = 0; way < ways; way++) {
    let sum = 0;
    for (let site = 0; site < sums.length; site++)
      sum += (way >> site) & 1 ? -sums[site] : sums[site];
    if (Math.abs(sum) >= seen - 1e-9) far++;
  }
  return far / ways;
}

/** Twice the probability of a rank sum at most `smaller`, by counting subsets of ranks. */
function exactP(smaller: number, m: number): number {
  const total = (m * (m + 1)) / 2;
  const ways = new Float64Array(total + 1);
  ways[0] = 1;
  for (let rank = 1; rank <= m; rank++) {
    for (let sum = total; sum >= rank; sum--) ways[sum] += ways[sum - rank];
  }
  let below = 0;
  for (let sum = 0; sum <= smaller; sum++) below += ways[sum];
  return Math.min(1, (2 * below) / 2 ** m);
}
