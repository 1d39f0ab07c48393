import { InputError } from "../results/index.js";
import { type Prescription, requirePrescription } from "./prescription.js";

/**
 * The lens with the same effect at another vertex distance: `F / (1 - d F)` for each principal
 * meridian, d = fromMm - toMm in metres, positive towards the eye. The axis does not change, the
 * cylinder does; the cylinder keeps its sign.
 *
 * Powers are in dioptres, distances in millimetres, axes in degrees.
 *
 * @param distances from the cornea in millimetres: `fromMm` where the lens is, `toMm` where it
 * should be (0 at the cornea)
 * @throws when a meridian is at or beyond the pole 1/d, where no lens has the effect; when a
 * distance is negative or not finite; when the prescription is out of range or lacks an axis
 *
 * Source: geometrical optics, vergence at a distance.
 *
 * @example
 * atVertex({ sphere: -8, cylinder: -3, axis: 20 }, { fromMm: 12, toMm: 0 }) // => { sphere: -7.2993, cylinder: -2.4180, axis: 20 }
 */
export function atVertex(
  prescription: Prescription,
  distances: { readonly fromMm: number; readonly toMm: number },
): Prescription {
  requirePrescription("atVertex", prescription);
  for (const name of ["fromMm", "toMm"] as const) {
    if (!(distances[name] >= 0 && distances[name] < Number.POSITIVE_INFINITY)) {
      throw new InputError(
        `atVertex requires ${name} of at least 0 millimetres, got ${distances[name]}`,
      );
    }
  }
  const metres = (distances.fromMm - distances.toMm) / 1000;
  const { sphere, cylinder, axis } = prescription;
  const along = effectivePower(sphere, metres);
  return { sphere: along, cylinder: effectivePower(sphere + cylinder, metres) - along, axis };
}

function effectivePower(power: number, metres: number): number {
  const left = 1 - metres * power;
  if (left <= 0) {
    throw new InputError(
      `atVertex requires powers short of the pole at ${(1 / metres).toFixed(2)} D, got ${power} D moved by ${metres * 1000} mm`,
    );
  }
  return power / left + 0;
}
