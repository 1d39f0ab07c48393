import type { Random } from "../inference/index.js";
import { accommodationShift } from "./accommodationShift.js";
import type { ChildState } from "./childState.js";
import { childFields } from "./layout.js";
import type { SimulationParameters } from "./parameters.js";
import { writePrescription } from "./roundedPrescription.js";

/** Draws what an exam would find in both eyes, and after how many days, whoever is examined. */
export function drawFinding(
  out: Float64Array,
  at: number,
  child: ChildState,
  random: Random,
  parameters: SimulationParameters,
): void {
  const { reference, table, accommodation } = parameters;
  const inadequate = random.uniform() < reference.inadequateShare;
  const known = random.uniform() < reference.inadequateKnown;
  const delay = Math.floor(-Math.log(1 - random.uniform()) * reference.delayMean);
  out[at + childFields.cycloplegia] = inadequate && known ? 2 : 1;
  out[at + childFields.delay] = delay;
  for (let side = 0; side < 2; side++) {
    const eye = side === 0 ? child.right : child.left;
    const residual = inadequate
      ? reference.inadequateLeft *
        eye.factor *
        accommodationShift(eye.M, child.ageYears, table, accommodation)
      : 0;
    const growth = eye.M < 0 ? (-reference.progression * delay) / 365.25 : 0;
    writePrescription(
      out,
      at + childFields.finding + 3 * side,
      eye.M + residual + growth + reference.errorSd * random.normal(),
      eye.J0 + reference.j0Sd * random.normal(),
      eye.J45 + reference.j45Sd * random.normal(),
      reference.step,
    );
  }
}
