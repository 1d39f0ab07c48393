import { type Estimate, type Undefined, undefinedBecause } from "../results/index.js";

/**
 * Independent groups weighted to one population: the weighted mean of their estimates, with limits by
 * square-and-add of theirs (Zou and Donner 2008). Groups of weight 0 are not asked.
 *
 * @param groups weights need not add up to 1
 * @param missing why there is no result where a group with a weight has no estimate
 */
export function standardisedEstimate(
  groups: readonly { readonly weight: number; readonly estimate: Estimate | Undefined }[],
  settings: {
    readonly level: number;
    readonly method: string;
    readonly missing: (place: number) => string;
  },
): Estimate | Undefined {
  const { level, method, missing } = settings;
  const weights = groups.reduce((sum, { weight }) => sum + weight, 0);
  if (!(weights > 0)) return undefinedBecause("no group has a weight");
  let [value, below, above] = [0, 0, 0];
  for (const [place, { weight, estimate }] of groups.entries()) {
    const share = weight / weights;
    if (share === 0) continue;
    if (estimate.kind === "undefined") return undefinedBecause(missing(place));
    value += share * estimate.value;
    below += (share * (estimate.value - estimate.low)) ** 2;
    above += (share * (estimate.high - estimate.value)) ** 2;
  }
  const [low, high] = [value - Math.sqrt(below), value + Math.sqrt(above)];
  return { kind: "estimate", value, low, high, level, method };
}
