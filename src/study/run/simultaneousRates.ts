import type { Protocol } from "../../protocol/index.js";
import type { Estimate, Undefined } from "../../results/index.js";

/** Intervals of one condition that hold together with those of the other confirmatory conditions. */
export interface SimultaneousRates {
  /** Sensitivity and specificity of each confirmatory condition. */
  readonly comparisons: number;
  /** Of each interval: 1 - (1 - the protocol's level) / comparisons. */
  readonly level: number;
  readonly sensitivity: Estimate | Undefined;
  readonly specificity: Estimate | Undefined;
}

/**
 * Where a protocol calls two or more conditions confirmatory, their sensitivities and specificities
 * are claimed together: each interval is made at a level such that all hold at the protocol's level,
 * however they depend on each other (Bonferroni). Nothing for an exploratory condition, or one alone.
 *
 * @param ratesAt the condition's rates with intervals at a level
 */
export function simultaneousRates(
  { conditions, level }: Protocol,
  role: "confirmatory" | "exploratory",
  ratesAt: (level: number) => Pick<SimultaneousRates, "sensitivity" | "specificity">,
): { readonly simultaneous?: SimultaneousRates } {
  const confirmatory = conditions.filter((one) => one.role === "confirmatory").length;
  if (role !== "confirmatory" || confirmatory < 2) return {};
  const comparisons = 2 * confirmatory;
  const each = 1 - (1 - level) / comparisons;
  const { sensitivity, specificity } = ratesAt(each);
  return { simultaneous: { comparisons, level: each, sensitivity, specificity } };
}
