import type { SimulationParameters } from "./parameters.js";

/**
 * Mean shift of a dry reading's M, always minus or zero: -(a0 + a1 max(0, M - m0)), each of the
 * three constants running from its value for the young to its value for school age.
 */
export function accommodationShift(
  M: number,
  ageYears: number,
  instrument: SimulationParameters["handheld"],
  { youngAge, schoolAge }: SimulationParameters["accommodation"],
): number {
  const school = Math.min(1, Math.max(0, (ageYears - youngAge) / (schoolAge - youngAge)));
  const young = 1 - school;
  const base = young * instrument.youngBase + school * instrument.schoolBase;
  const slope = young * instrument.youngSlope + school * instrument.schoolSlope;
  const from = young * instrument.youngFrom + school * instrument.schoolFrom;
  return -(base + slope * Math.max(0, M - from));
}
