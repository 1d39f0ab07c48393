import type { Coded } from "../cohort/index.js";
import type { Decision } from "../rows/index.js";

/** One eye's refraction of every child, in dioptres. */
export interface VectorColumns {
  readonly M: Float64Array;
  readonly J0: Float64Array;
  readonly J45: Float64Array;
}

/** What nobody in a real study knows; one row a child, in the order of the subjects' labels. */
export interface SimulatedTruth {
  readonly kind: "simulated-truth";
  readonly n: number;
  /** Refraction with accommodation fully relaxed, without error. */
  readonly latent: { readonly right: VectorColumns; readonly left: VectorColumns };
  /** What the exam finds, or would find, whoever is examined. */
  readonly finding: { readonly right: VectorColumns; readonly left: VectorColumns };
  readonly strabismus: Uint8Array;
  readonly mediaOpacity: Uint8Array;
  readonly conditionByLatent: Uint8Array;
  readonly conditionByFinding: Uint8Array;
  /** By the reading that decides. */
  readonly decision: Coded<Decision>;
  readonly referred: Uint8Array;
  readonly examined: Uint8Array;
}
