import { InputError } from "../results/index.js";

/** A lens as three independent components, in dioptres (Thibos, Wheeler and Horner 1997). */
export interface PowerVector {
  /** Spherical equivalent. */
  readonly M: number;
  /** Positive with the rule (minus cylinder at 180), negative against the rule. */
  readonly J0: number;
  /** Positive for a minus cylinder at 45, negative at 135. */
  readonly J45: number;
}

/** Throws unless all three components are finite. */
export function requireVector(caller: string, { M, J0, J45 }: PowerVector): void {
  if (!Number.isFinite(M) || !Number.isFinite(J0) || !Number.isFinite(J45)) {
    throw new InputError(`${caller} requires finite M, J0 and J45, got ${M}, ${J0}, ${J45}`);
  }
}
