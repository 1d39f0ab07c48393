import { mean, median } from "simple-statistics";
import { InputError } from "../results/index.js";
import type { CylinderSign, Prescription } from "./prescription.js";
import { toPowerVector } from "./toPowerVector.js";
import { toPrescription } from "./toPrescription.js";

/**
 * The average of prescriptions, through their power vectors and never of axes: -2.00 x 5 and
 * -2.00 x 175 average to -1.97 x 180, and cylinders at right angles to none (axis null).
 *
 * `centre: "median"` takes the median of each of M, J0 and J45, which one wild reading does not
 * move; unlike the mean it depends on the directions from which axes are counted.
 *
 * Sphere and cylinder are in dioptres, axes in degrees.
 *
 * @param prescriptions at least one, in either cylinder sign
 * @param options `centre`: "mean" (default) or "median"; `cylinder`: "minus" (default) or "plus"
 * @throws when there is no prescription, or one is out of range or lacks an axis
 *
 * Source: Thibos, Wheeler and Horner 1997.
 *
 * @example
 * averagePrescriptions([{ sphere: 0, cylinder: -2, axis: 5 }, { sphere: 0, cylinder: -2, axis: 175 }]) // => { sphere: -0.0152, cylinder: -1.9696, axis: 180 }
 */
export function averagePrescriptions(
  prescriptions: readonly Prescription[],
  options: { readonly centre?: "mean" | "median"; readonly cylinder?: CylinderSign } = {},
): Prescription {
  if (prescriptions.length === 0) {
    throw new InputError("averagePrescriptions requires at least 1 prescription, got 0");
  }
  const { centre = "mean" } = options;
  if (centre !== "mean" && centre !== "median") {
    throw new InputError(`averagePrescriptions requires centre "mean" or "median", got ${centre}`);
  }
  const vectors = prescriptions.map(toPowerVector);
  const middle = centre === "mean" ? mean : median;
  return toPrescription(
    {
      M: middle(vectors.map(({ M }) => M)),
      J0: middle(vectors.map(({ J0 }) => J0)),
      J45: middle(vectors.map(({ J45 }) => J45)),
    },
    options,
  );
}
