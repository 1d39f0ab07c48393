import { InputError } from "../results/index.js";

/** The sign in which a cylinder is written. */
export type CylinderSign = "minus" | "plus";

/** A spherocylindrical lens in either cylinder sign, in dioptres and degrees. */
export interface Prescription {
  readonly sphere: number;
  /** Signed, as recorded. */
  readonly cylinder: number;
  /** Degrees, 0 to 180; null where the cylinder is 0 and none was written. */
  readonly axis: number | null;
}

/** Beyond these a number is a mistake, not a lens; in dioptres. */
export const sphereLimit = 40;
export const cylinderLimit = 20;

/** Throws unless sphere and cylinder are finite and within their limits. */
export function requirePowers(
  caller: string,
  { sphere, cylinder }: { readonly sphere: number; readonly cylinder: number },
): void {
  requireWithin(caller, "sphere", sphere, sphereLimit);
  requireWithin(caller, "cylinder", cylinder, cylinderLimit);
}

/** Throws unless it is a prescription: powers within their limits, an axis where there is a cylinder. */
export function requirePrescription(caller: string, prescription: Prescription): void {
  requirePowers(caller, prescription);
  const { cylinder, axis } = prescription;
  if (axis === null || axis === undefined) {
    if (cylinder !== 0) {
      throw new InputError(`${caller} requires an axis with the cylinder ${cylinder}, got none`);
    }
  } else if (typeof axis !== "number" || !(axis >= 0 && axis <= 180)) {
    throw new InputError(`${caller} requires an axis from 0 to 180 degrees, got ${axis}`);
  }
}

/** A loosely typed cell lets null and text through. */
function requireWithin(caller: string, part: string, value: number, limit: number): void {
  if (typeof value === "number" && Math.abs(value) <= limit) return;
  throw new InputError(`${caller} requires a ${part} from -${limit} to ${limit} D, got ${value}`);
}
