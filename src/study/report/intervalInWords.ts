import type { Estimate, OneSided, Undefined } from "../../results/index.js";
import { fixed } from "../../rows/index.js";
import { percentText } from "../../tables/index.js";

/** "0.85 D (0.79 to 0.90)", or the reason why there is no number. */
export function intervalInWords(
  estimate: Estimate | OneSided | Undefined,
  unit: string,
  scale: number,
  decimals = scale === 100 ? 1 : 2,
): string {
  // percent never rounds to 100 what is less
  const printed = (part: number) =>
    unit === "%" ? percentText(part, decimals) : fixed(part * scale, decimals);
  const own = unit === "" ? "" : ` ${unit}`;
  if (estimate.kind === "undefined") {
    const { low, high, reason } = estimate;
    return low === undefined || high === undefined
      ? `not estimated (${reason})`
      : `between ${printed(low)} and ${printed(high)}${own} (${reason})`;
  }
  if (estimate.kind === "one-sided") {
    const side = estimate.low === null ? "at most" : "at least";
    const [point, end] = [estimate.value, (estimate.low ?? estimate.high)!].map((part) =>
      fixed(part * scale, decimals),
    );
    return `${point}${unit === "" ? "" : ` ${unit}`} (${side} ${end}; the outer end is not reached by these data)`;
  }
  const [point, low, high] = [estimate.value, estimate.low, estimate.high].map(printed);
  return `${point}${own} (${low} to ${high})`;
}
