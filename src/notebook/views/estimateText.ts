import type { Estimate, OneSided, Undefined } from "../../results/index.js";
import { percent } from "../../rows/index.js";
import { percentText, probabilityText } from "../../tables/index.js";

/**
 * An estimate with its interval in words: "0.85 (0.79 to 0.90)". Two decimals, or more where the
 * interval is narrow; the level is printed unless it is 95 %; what could not be estimated is
 * printed with its reason.
 */
export function estimateText(estimate: Estimate | OneSided | Undefined): string {
  if (estimate.kind === "undefined") {
    const { low, high, reason } = estimate;
    if (low === undefined) return `not estimated: ${reason}`;
    return high === undefined
      ? `not estimated, at least ${low.toFixed(2)}: ${reason}`
      : `${low.toFixed(3)} to ${high.toFixed(3)}, no single value: ${reason}`;
  }
  if (estimate.kind === "one-sided") {
    const { value, low, high, level, reason } = estimate;
    const side = low === null ? "at most" : "at least";
    return `${value.toFixed(2)} (${percent(level)}: ${side} ${(low ?? high)!.toFixed(2)}; ${reason})`;
  }
  const { value, low, high, level } = estimate;
  const width = high - low;
  const decimals = width > 0 && width < 0.1 ? Math.min(6, 1 - Math.floor(Math.log10(width))) : 2;
  const print = (number: number) => number.toFixed(decimals).replace(/^-(0\.?0*)$/, "$1");
  const label = level === 0.95 ? "" : `${percent(level)}: `;
  return `${print(value)} (${label}${print(low)} to ${print(high)})`;
}

/** The same for a share: "96.3 % (94.0 to 97.7)". */
export function rateText(rate: Estimate | OneSided | Undefined): string {
  if (rate.kind === "undefined") return estimateText(rate);
  const print = (value: number | null) => (value === null ? "no limit" : percentText(value, 1));
  const label = rate.level === 0.95 ? "" : `${percent(rate.level)}: `;
  return `${print(rate.value)} % (${label}${print(rate.low)} to ${print(rate.high)})`;
}

/** "42.9 and 93.6 %" of a rate that is known to lie there. */
export function boundsText(
  bounds: { readonly kind: "bounds"; readonly low: number; readonly high: number } | Undefined,
): string {
  if (bounds.kind === "undefined") return estimateText(bounds);
  return `${percentText(bounds.low, 1)} and ${percentText(bounds.high, 1)} %`;
}

/** "P = 0.021" or "P < 0.0001"; "no P" where there is none. */
export function pText(p: number | Undefined | null): string {
  return typeof p === "number" ? probabilityText(p, "P") : "no P";
}

/** A share that is no estimate: "66.7 %". */
export const shareText = (share: number): string => `${percentText(share, 1)} %`;
