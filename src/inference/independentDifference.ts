import { type Estimate, type Undefined, undefinedBecause } from "../results/index.js";
import { normalQuantile } from "./distributions.js";
import { moverDifference } from "./mover.js";
import type { TwoSamples } from "./riskRatioInterval.js";
import { wilsonLimits } from "./wilsonInterval.js";

/**
 * Difference of two independent proportions, first minus second, by square-and-add of Wilson's
 * limits without continuity correction (Newcombe 1998, 873-890, method 10). Counts need not be whole.
 */
export function newcombeIndependent(counts: TwoSamples, level: number): Estimate | Undefined {
  const { x1, n1, x2, n2 } = counts;
  if (n1 === 0 || n2 === 0) return undefinedBecause("one of the two groups is empty");
  const z = normalQuantile(1 - (1 - level) / 2);
  const side = (x: number, n: number) => {
    const [low, high] = wilsonLimits(x, n, z);
    return { value: x / n, low, high };
  };
  const { value, low, high } = moverDifference(side(x1, n1), side(x2, n2));
  return { kind: "estimate", value, low, high, level, method: "newcombe-independent" };
}

/** z of the pooled test of two equal independent proportions; 0 when both are all or none. */
export function pooledZ({ x1, n1, x2, n2 }: TwoSamples): number {
  const p = (x1 + x2) / (n1 + n2);
  const variance = p * (1 - p) * (1 / n1 + 1 / n2);
  return variance > 0 ? (x1 / n1 - x2 / n2) / Math.sqrt(variance) : 0;
}
