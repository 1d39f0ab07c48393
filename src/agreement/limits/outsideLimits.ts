import { clusteredShare, proportionInterval } from "../../inference/index.js";
import type { Estimate, Undefined } from "../../results/index.js";
import { type Clusters, countByCluster } from "../../rows/index.js";
import type { FarDifferences } from "./pairMoments.js";

/** Rows whose difference lies strictly outside the limits. */
export interface OutsideLimits {
  readonly below: number;
  readonly above: number;
  readonly share: Estimate | Undefined;
}

/** Counts them among the differences set aside where these are enough, else among all rows. */
export function outsideLimits(
  pairs: Pairs,
  far: FarDifferences,
  limits: readonly [number, number],
  level: number,
  subjects?: Clusters,
): OutsideLimits {
  const n = pairs.test.length;
  const [lower, upper] = limits;
  const differences =
    lower <= far.lowest && upper >= far.highest ? far.differences : differencesOf(pairs);
  const [below, above] = countOutside(differences, limits);
  const share = subjects?.repeated
    ? clusteredShare(countByCluster(subjects, outsideTest(pairs, limits)), level)
    : proportionInterval({ successes: below + above, trials: n }, { level });
  return { below, above, share };
}

interface Pairs {
  readonly test: ArrayLike<number>;
  readonly reference: ArrayLike<number>;
}

function differencesOf({ test, reference }: Pairs): Float64Array {
  return Float64Array.from({ length: test.length }, (_, row) => test[row] - reference[row]);
}

function countOutside(
  differences: Float64Array,
  [lower, upper]: readonly [number, number],
): readonly [number, number] {
  let below = 0;
  let above = 0;
  // Added as numbers: a branch that is taken now and then costs more than the comparison.
  for (let at = 0; at < differences.length; at++) {
    below += Number(differences[at] < lower);
    above += Number(differences[at] > upper);
  }
  return [below, above];
}

function outsideTest({ test, reference }: Pairs, [lower, upper]: readonly [number, number]) {
  return (row: number) => {
    const difference = test[row] - reference[row];
    return difference < lower || difference > upper;
  };
}
