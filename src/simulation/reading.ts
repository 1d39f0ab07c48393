import type { Random } from "../inference/index.js";
import { accommodationShift } from "./accommodationShift.js";
import type { ChildState, EyeState } from "./childState.js";
import { readingFields, statusCodes } from "./layout.js";
import { logitOfMeanRate } from "./logitOfMeanRate.js";
import type { SimulationParameters } from "./parameters.js";
import { writePrescription } from "./roundedPrescription.js";

/** What one attempt draws before it looks at either eye; reused from attempt to attempt. */
interface Draws {
  sharedM: number;
  sharedJ0: number;
  quality: number;
  pupil: number;
}

/**
 * Draws one dry reading of both eyes by one instrument and writes it at `at`, right eye first.
 * The number of draws never depends on a parameter.
 */
export function drawReading(
  out: Float64Array,
  at: number,
  child: ChildState,
  random: Random,
  instrument: SimulationParameters["handheld"],
  accommodation: SimulationParameters["accommodation"],
): void {
  const first: Draws = sharedDraws(random);
  const other: Draws = sharedDraws(random);
  drawEye(out, at, child, child.right, first, random, instrument, accommodation);
  const second = child.linked ? first : other;
  drawEye(out, at + readingFields, child, child.left, second, random, instrument, accommodation);
}

function sharedDraws(random: Random): Draws {
  return {
    sharedM: random.normal(),
    sharedJ0: random.normal(),
    quality: random.normal(),
    pupil: random.normal(),
  };
}

function drawEye(
  out: Float64Array,
  at: number,
  child: ChildState,
  eye: EyeState,
  shared: Draws,
  random: Random,
  instrument: SimulationParameters["handheld"],
  accommodation: SimulationParameters["accommodation"],
): void {
  const young = child.ageMonths < 96;
  const { qualityLasting, qualityShared } = instrument;
  const quality =
    Math.sqrt(qualityLasting) * eye.quality +
    Math.sqrt(qualityShared) * shared.quality +
    Math.sqrt(1 - qualityLasting - qualityShared) * random.normal();
  const noise = Math.exp(
    -instrument.qualityNoise * quality - instrument.qualityNoise * instrument.qualityNoise,
  );
  const pupil = instrument.pupilMean + instrument.pupilSd * shared.pupil;
  const grossChance =
    instrument.grossShare *
    Math.exp(
      -instrument.qualityGross * quality - (instrument.qualityGross * instrument.qualityGross) / 2,
    );
  const grossDraw = random.uniform();
  const grossSize = random.normal();
  const gross = grossDraw < grossChance ? instrument.grossSd * grossSize : 0;
  const M = compressed(
    eye.M +
      accommodationShift(eye.M, child.ageYears, instrument, accommodation) * eye.factor +
      instrument.pupilEffect * (pupil - instrument.pupilMean) +
      instrument.sharedSd * shared.sharedM +
      instrument.ownSd * noise * random.normal() +
      gross +
      child.siteShift,
    instrument,
  );
  const j0Error =
    Math.sqrt(instrument.j0Shared) * shared.sharedJ0 +
    Math.sqrt(1 - instrument.j0Shared) * noise * random.normal();
  const J0 = eye.J0 + instrument.j0Shift + instrument.j0Sd * j0Error;
  const J45 = eye.J45 + instrument.j45Sd * noise * random.normal();
  writePrescription(out, at + 1, M, J0, J45, instrument.step);

  const base = young ? instrument.unreadableYoung : instrument.unreadableOld;
  // the stated rate is the one over all qualities
  const logit =
    logitOfMeanRate(base, instrument.unreadableQuality) +
    (child.affected ? Math.log(instrument.unreadableOdds) : 0) -
    instrument.unreadableQuality * quality;
  const unreadable = random.uniform() < 1 / (1 + Math.exp(-logit));
  const flagged = random.uniform() < (young ? instrument.flagYoung : instrument.flagOld);
  const said = random.uniform() < instrument.rangeFlagged;
  const sphere = out[at + 1];
  let status: number = statusCodes.measured;
  if (unreadable) status = statusCodes.unreadable;
  else if (flagged) status = M >= 0 ? statusCodes.overRange : statusCodes.underRange;
  else if (sphere > instrument.rangeHigh || sphere < instrument.rangeLow) {
    if (said) status = sphere > 0 ? statusCodes.overRange : statusCodes.underRange;
    else out[at + 1] = sphere > 0 ? instrument.rangeHigh : instrument.rangeLow;
  }
  out[at] = status;
  if (status !== statusCodes.measured) out.fill(Number.NaN, at + 1, at + 4);
  const score = Math.round(instrument.scoreMean + instrument.scoreSlope * quality);
  out[at + 4] = status === statusCodes.measured ? Math.min(10, Math.max(1, score)) : Number.NaN;
  out[at + 5] = Math.round(pupil * 10) / 10;
}

function compressed(M: number, instrument: SimulationParameters["handheld"]): number {
  const kept = 1 - instrument.compression;
  if (M < instrument.kneeLow) return instrument.kneeLow + kept * (M - instrument.kneeLow);
  if (M > instrument.kneeHigh) return instrument.kneeHigh + kept * (M - instrument.kneeHigh);
  return M;
}
