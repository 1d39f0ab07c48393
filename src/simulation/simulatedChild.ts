import type { MeasurementStatus } from "../cohort/index.js";
import type { Decision } from "../rows/index.js";

/** One eye as a rule sees it; the numbers are NaN unless the status is "measured". */
export interface SimulatedEye {
  readonly status: MeasurementStatus;
  /** Spherical equivalent, D. */
  readonly M: number;
  readonly J0: number;
  readonly J45: number;
  readonly sphere: number;
  /** In minus form: zero or below. */
  readonly cylinder: number;
}

/**
 * A child as a rule or a condition sees it: by its reading, its finding or its latent refraction.
 * The object is used again for the next child; keep none.
 */
export interface SimulatedChild {
  readonly ageMonths: number;
  /** Site, counted from 0. */
  readonly site: number;
  readonly right: SimulatedEye;
  readonly left: SimulatedEye;
  readonly strabismus: boolean;
  readonly mediaOpacity: boolean;
}

/** Rules over a child; plain functions without a memory. */
export interface SimulatedRules {
  /** Decides by the reading of the first instrument; default `defaultReferral`. */
  readonly refer?: (child: SimulatedChild) => Decision;
  /** Says whether the condition is there, by finding and by latent value; `defaultCondition`. */
  readonly condition?: (child: SimulatedChild) => boolean;
}
