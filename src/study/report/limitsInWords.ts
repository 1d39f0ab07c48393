import type { LimitsOfAgreement } from "../../agreement/index.js";
import type { PublicLimits } from "../coarse/publicLimits.js";
import { intervalInWords as interval } from "./intervalInWords.js";

/** The leading limits in one sentence and the other summary in the next, so that neither stands alone. */
export function limitsInWords(
  limits: Pick<PublicLimits, "lower" | "upper" | "percentile" | "leads" | "coverage">,
): string {
  const { lower, upper, percentile, leads } = limits;
  const share = `${Number((100 * limits.coverage).toPrecision(3))} %`;
  const normal = `${interval(lower, "D", 1)} and ${interval(upper, "D", 1)}`;
  if (percentile.kind === "undefined") {
    return `limits of agreement, if the differences are normal, ${normal}`;
  }
  const observed = `${interval(percentile.lower, "D", 1)} and ${interval(percentile.upper, "D", 1)}`;
  return leads === "percentile"
    ? `${share} of differences lie between ${observed} (percentile limits: where the outermost of these differences are cut off, as many on each side); if the differences were normal, the limits would be ${normal}`
    : `limits of agreement, if the differences are normal, ${normal}; the percentiles of these data are ${observed}`;
}

/** What readings at an end of the instrument's range do to the limits; empty where none are marked. */
export function endOfRangeInWords({ withoutEndOfRange: without }: LimitsOfAgreement): string {
  if (without === undefined || without.kind === "undefined") return "";
  const { percentile } = without;
  const observed =
    percentile.kind === "undefined"
      ? ""
      : `${interval(percentile.lower, "D", 1)} and ${interval(percentile.upper, "D", 1)} (percentiles), `;
  return `Without the readings at an end of the instrument's range: ${observed}${interval(without.lower, "D", 1)} and ${interval(without.upper, "D", 1)} (if normal).`;
}
