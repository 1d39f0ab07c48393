import {
  logitEstimate,
  proportionInterval,
  symmetricEstimate,
  wilsonEstimate,
} from "../../inference/index.js";
import { type Estimate, type Undefined, undefinedBecause } from "../../results/index.js";
import type { DrawnLimits } from "./cellDraws.js";
import type { CorrectedMeasure } from "./cellRates.js";
import type { Share } from "./verificationShares.js";
import type { Stratum } from "./verificationStrata.js";

/** How the interval of a corrected share is made. */
export type VerificationMethod = "draws" | "logit" | "symmetric" | "jeffreys";

/** A corrected share with the interval asked for. */
export function correctedEstimate(
  { value, variance }: Share,
  name: CorrectedMeasure,
  settings: {
    readonly used: VerificationMethod;
    readonly level: number;
    readonly drawn: DrawnLimits<CorrectedMeasure> | undefined;
    readonly reason: string | undefined;
  },
): Estimate | Undefined {
  const { used, level, drawn, reason } = settings;
  if (reason !== undefined) return undefinedBecause(reason);
  if (!Number.isFinite(value)) return undefinedBecause("no child is on that side of the condition");
  if (drawn !== undefined) {
    const [low, high] = drawn[name];
    return {
      kind: "estimate",
      value,
      low: value === 0 ? 0 : Math.min(low, value),
      high: value === 1 ? 1 : Math.max(high, value),
      level,
      method: "jeffreys",
    };
  }
  const se = Math.sqrt(variance);
  return used === "symmetric"
    ? symmetricEstimate(value, se, level)
    : logitEstimate(value, se, level);
}

/**
 * Predictive value: strata weighted by their size; Wilson on one stratum, else on the logit scale.
 * Where all the examined are right, or none, Wilson on as many rows as equal weights would need.
 */
export function weightedPredictive(
  strata: readonly Stratum[],
  side: "positive" | "negative",
  level: number,
  reason: string | undefined,
): Estimate | Undefined {
  if (reason !== undefined) return undefinedBecause(reason);
  const parts = strata
    .map((s) =>
      side === "positive"
        ? { size: s.positives, right: s.verified.truePositive, examined: s.examinedPositives }
        : { size: s.negatives, right: s.verified.trueNegative, examined: s.examinedNegatives },
    )
    .filter(({ size }) => size > 0);
  if (parts.length === 1) {
    const { right, examined } = parts[0];
    return proportionInterval({ successes: right, trials: examined }, { level });
  }
  const n = parts.reduce((sum, { size }) => sum + size, 0);
  const value = parts.reduce((sum, p) => sum + ((p.size / n) * p.right) / p.examined, 0);
  const end = [0, 1].find((rate) => parts.every((p) => p.right === rate * p.examined));
  if (end !== undefined) {
    const rows = n ** 2 / parts.reduce((sum, p) => sum + p.size ** 2 / p.examined, 0);
    return wilsonEstimate(end, rows, level, "wilson-effective-rows");
  }
  let variance = 0;
  for (const { size, right, examined } of parts) {
    const rate = right / examined;
    variance += ((size / n) * (rate - value) ** 2) / n;
    variance += ((size / n) ** 2 * rate * (1 - rate)) / examined;
  }
  return logitEstimate(value, Math.sqrt(variance), level);
}

/** Children found with the condition per 1000 screened, were every referral examined. */
export function yieldPer1000(
  { value, variance }: Share,
  reason: string | undefined,
  n: number,
  level: number,
): Estimate | Undefined {
  if (reason !== undefined) return undefinedBecause(reason);
  const share = logitEstimate(value, Math.sqrt(variance), level);
  if (share.kind === "undefined") {
    return undefinedBecause(`${value === 0 ? "no case" : "only cases"} found in ${n} children`);
  }
  const { low, high, method } = share;
  return {
    kind: "estimate",
    value: 1000 * value,
    low: 1000 * low,
    high: 1000 * high,
    level,
    method,
    se: 1000 * Math.sqrt(variance),
  };
}
