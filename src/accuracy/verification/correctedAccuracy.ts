import type { Estimate, TwoByTwo, Undefined } from "../../results/index.js";
import type { VerificationMethod } from "./correctedEstimates.js";
import type { VerificationBounds } from "./verificationBounds.js";
import type { VerificationCell } from "./verificationCells.js";

/** Accuracy of all screened children, the unexamined ones standing behind the examined. */
export interface CorrectedAccuracy {
  readonly kind: "corrected-accuracy";
  /** All children, examined or not. */
  readonly n: number;
  /** Examined for any reason, by the rule under study; these and the unexamined are everybody. */
  readonly examined: { readonly testPositive: number; readonly testNegative: number };
  readonly unexamined: { readonly testPositive: number; readonly testNegative: number };
  /** Within which the examined stood for the others. */
  readonly cells: readonly VerificationCell[];
  /** Examined, but standing for nobody: in the bounds and in the known counts only. */
  readonly knownOnly: TwoByTwo;
  /** Missed cases among drawn passes; null where no pass needed anybody to stand for him. */
  readonly drawnMisses: number | null;
  readonly level: number;
  /** Sites above the children, where `clusters` were given. */
  readonly sites?: number;
  readonly method: VerificationMethod;
  readonly sensitivity: Estimate | Undefined;
  readonly specificity: Estimate | Undefined;
  readonly positivePredictiveValue: Estimate | Undefined;
  readonly negativePredictiveValue: Estimate | Undefined;
  readonly prevalence: Estimate | Undefined;
  /** Children with the condition among 1000 screened whom the rule refers, were all of these examined. */
  readonly yieldPer1000: Estimate | Undefined;
  /** Uncorrected sensitivity and specificity of the examined, for comparison. */
  readonly naive: {
    readonly sensitivity: Estimate | Undefined;
    readonly specificity: Estimate | Undefined;
  };
  readonly bounds: VerificationBounds;
  /** How far a ratio of this precision lies above its truth on average: A var(B) / (A + B)³. */
  readonly ratioBias: number | null;
  readonly notes: readonly string[];
}
