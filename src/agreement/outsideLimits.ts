import { normalQuantile } from "../inference/distributions.js";
import { wilsonLimits } from "../inference/wilsonInterval.js";
import type { Estimate } from "../results/index.js";
import { clusteredShare } from "./clusteredShare.js";
import { type Clusters, repeats } from "./columns.js";

/** Rows whose difference lies strictly outside the limits. */
export interface OutsideLimits {
  readonly below: number;
  readonly above: number;
  readonly share: Estimate;
}

export function outsideLimits(
  test: ArrayLike<number>,
  reference: ArrayLike<number>,
  [lower, upper]: readonly [number, number],
  level: number,
  subjects?: Clusters,
): OutsideLimits {
  const n = test.length;
  let below = 0;
  let above = 0;
  // Added as numbers: a branch that is taken now and then costs more than the comparison.
  for (let row = 0; row < n; row++) {
    const difference = test[row] - reference[row];
    below += Number(difference < lower);
    above += Number(difference > upper);
  }
  if (subjects && repeats(subjects)) {
    const outside = (row: number) => {
      const difference = test[row] - reference[row];
      return difference < lower || difference > upper;
    };
    return { below, above, share: clusteredShare(outside, subjects, level) };
  }
  const [low, high] = wilsonLimits(below + above, n, normalQuantile((1 + level) / 2));
  const value = (below + above) / n;
  return {
    below,
    above,
    share: { kind: "estimate", value, low, high, level, method: "wilson" },
  };
}
