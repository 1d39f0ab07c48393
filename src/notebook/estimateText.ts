import type { Estimate, OneSided, Undefined } from "../results/index.js";
import { percent } from "../rows/index.js";

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
