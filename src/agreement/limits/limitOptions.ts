import { normalQuantile } from "../../inference/index.js";
import { InputError } from "../../results/index.js";

export type LimitInterval = "exact" | "mover" | "bootstrap" | "approximate" | "site-jackknife";

/** How rows hang together: not at all, by child, as repeats of a unit, or both. */
export type LimitDesign = "independent" | "clustered" | "repeats" | "clustered-repeats";

/** SDs from the bias to a limit, from a share of differences or as stated. */
export function requireMultiplier(options: {
  readonly coverage?: number;
  readonly multiplier?: number;
}): number {
  const { coverage, multiplier } = options;
  if (multiplier !== undefined) {
    if (coverage !== undefined) {
      throw new InputError("limitsOfAgreement requires coverage or multiplier, got both");
    }
    if (!(multiplier > 0 && multiplier < 8)) {
      throw new InputError(
        `limitsOfAgreement requires a positive multiplier below 8, got ${multiplier}`,
      );
    }
    return multiplier;
  }
  const share = coverage ?? 0.95;
  if (!(share > 0 && share < 1)) {
    throw new InputError(`limitsOfAgreement requires a coverage between 0 and 1, got ${share}`);
  }
  return normalQuantile((1 + share) / 2);
}

/** The interval that the design allows; "exact" is refused where rows are not independent. */
export function requireInterval(
  interval: LimitInterval | undefined,
  design: LimitDesign | "sites",
  limits: "each" | "pair",
): LimitInterval {
  if (design === "sites") {
    if ((interval !== undefined && interval !== "site-jackknife") || limits === "pair") {
      throw new InputError(
        `limitsOfAgreement requires interval "site-jackknife" for each limit where clusters are given, got ${limits === "pair" ? 'limits "pair"' : `"${interval}"`}`,
      );
    }
    return "site-jackknife";
  }
  const chosen = interval ?? (design === "independent" ? "exact" : "mover");
  if (!["exact", "mover", "bootstrap", "approximate"].includes(chosen)) {
    throw new InputError(
      `limitsOfAgreement requires interval "exact", "mover", "bootstrap" or "approximate", got "${chosen}"`,
    );
  }
  if (chosen === "exact" && design !== "independent") {
    throw new InputError(
      'limitsOfAgreement requires independent rows for interval "exact", got subjects or units ' +
        'that repeat; use "mover", "bootstrap" or "approximate"',
    );
  }
  if (limits === "pair" && chosen !== "exact") {
    throw new InputError(
      `limitsOfAgreement requires interval "exact" for limits "pair", got "${chosen}"`,
    );
  }
  return chosen;
}
