import type { Estimate } from "../../results/index.js";
import type { PositiveWhen } from "../../rows/index.js";

/** An area with what it was estimated from. */
export interface AreaEstimate extends Estimate {
  readonly n: number;
  /** Number, or sum of weights, of rows with the condition. */
  readonly withCondition: number;
  readonly withoutCondition: number;
  /** Number of children, where subjects were given. */
  readonly subjects?: number;
  /** Number of sites above them, where `clusters` were given. */
  readonly sites?: number;
  readonly positiveWhen: PositiveWhen;
}
