import { normalQuantile, wilsonLimits } from "../../inference/index.js";
import type { Estimate } from "../../results/index.js";
import type { Clusters } from "../../rows/index.js";
import { clusteredShare } from "../clusteredShare.js";
import type { FarDifferences } from "./pairMoments.js";

/** Rows whose difference lies strictly outside the limits. */
export interface OutsideLimits {
  readonly below: number;
  readonly above: number;
  readonly share: Estimate;
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
  if (subjects?.repeated) {
    return { below, above, share: clusteredShare(outsideTest(pairs, limits), subjects, level) };
  }
  const [low, high] = wilsonLimits(below + above, n, normalQuantile((1 + level) / 2));
  const value = (below + above) / n;
  return {
    below,
    above,
    share: { kind: "estimate", value, low, high, level, method: "wilson" },
  };
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
