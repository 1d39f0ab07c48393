import type { Estimate, Undefined } from "../src/results/index.js";

/** The estimate, or an error with the reason why there is none. */
export function known(estimate: Estimate | Undefined): Estimate {
  if (estimate.kind === "undefined") throw new Error(estimate.reason);
  return estimate;
}
