import type { Estimate } from "../../results/index.js";
import type { ClusterColumns } from "../../rows/index.js";
import type { LimitsOfAgreement } from "./limitsOfAgreement.js";

/** Limits of agreement with each examined row standing for others. */
export interface WeightedLimits {
  readonly kind: "weighted-limits";
  /** Examined rows. */
  readonly n: number;
  readonly subjects: number;
  /** Sites above them, where `clusters` were given. */
  readonly sites?: number;
  readonly level: number;
  readonly multiplier: number;
  readonly direction: "test-minus-reference";
  /** Sum of weights squared over the sum of their squares. */
  readonly effectiveRows: number;
  readonly bias: Estimate;
  readonly sd: Estimate;
  readonly lower: Estimate;
  readonly upper: Estimate;
  /** The same without weights, which describes the examined only. */
  readonly amongExamined: LimitsOfAgreement;
  /** Where weights were estimated: rows with a reading, and how they were resampled; over sites they were not. */
  readonly examination?: {
    readonly rows: number;
    readonly strata: number;
    readonly replicates?: number;
    readonly seed?: number;
    /** Resamples in which a stratum had no examined row; the intervals are of the others. */
    readonly failed?: number;
  };
  readonly notes: readonly string[];
}

export interface WeightedData extends ClusterColumns {
  readonly test: ArrayLike<number>;
  readonly reference: ArrayLike<number>;
}
