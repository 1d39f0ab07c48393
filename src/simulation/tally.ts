import { childFields, readingFields, statusCodes } from "./layout.js";
import type { Outcome } from "./programme.js";
import { j0Of, j45Of } from "./roundedPrescription.js";

/** Running sums of one quantity, for its mean, SD and their Monte Carlo errors. */
export interface Sums {
  n: number;
  first: number;
  second: number;
  third: number;
  fourth: number;
}

/** Steps of M in the histograms, per dioptre: the readings' M falls on them exactly. */
const stepsPerDioptre = 8;
const span = 40 * stepsPerDioptre;

/** Counts and sums over children; nothing is kept of any one child. */
export interface Tally {
  children: number;
  /** By decision (refer, pass, undecidable), then without and with the condition. */
  readonly byFinding: Float64Array;
  readonly byLatent: Float64Array;
  /** The same by finding, of the examined, for each reason in turn. */
  readonly examined: Float64Array;
  /** Children by how their condition differs: by finding only, by latent only. */
  findingOnly: number;
  latentOnly: number;
  /** Right eyes, reading minus finding, and reading minus latent. */
  readonly difference: { readonly M: Sums; readonly J0: Sums; readonly J45: Sums };
  readonly differenceFromLatent: Sums;
  /** Sums over children with both eyes measured: of the eyes' differences, for their correlation. */
  readonly pairs: Float64Array;
  /** Right eyes' readings of M by steps: without and with M <= -0.50 D, then M >= +3.00 D. */
  readonly myopia: readonly [Float64Array, Float64Array];
  readonly hyperopia: readonly [Float64Array, Float64Array];
}

/** An empty tally. */
export function emptyTally(): Tally {
  const sums = (): Sums => ({ n: 0, first: 0, second: 0, third: 0, fourth: 0 });
  const histogram = () => new Float64Array(2 * span + 1);
  return {
    children: 0,
    byFinding: new Float64Array(6),
    byLatent: new Float64Array(6),
    examined: new Float64Array(18),
    findingOnly: 0,
    latentOnly: 0,
    difference: { M: sums(), J0: sums(), J45: sums() },
    differenceFromLatent: sums(),
    pairs: new Float64Array(6),
    myopia: [histogram(), histogram()],
    hyperopia: [histogram(), histogram()],
  };
}

/** Adds one child; `reading` is where the deciding reading of its right eye stands. */
export function addToTally(
  tally: Tally,
  records: Float64Array,
  at: number,
  reading: number,
  outcome: Outcome,
): void {
  const { decision, conditionByFinding, conditionByLatent } = outcome;
  const cell = 2 * decision + (conditionByFinding ? 1 : 0);
  tally.children++;
  tally.byFinding[cell]++;
  tally.byLatent[2 * decision + (conditionByLatent ? 1 : 0)]++;
  if (conditionByFinding && !conditionByLatent) tally.findingOnly++;
  if (conditionByLatent && !conditionByFinding) tally.latentOnly++;
  if (outcome.examined) tally.examined[6 * outcome.reason + cell]++;

  const rightMeasured = records[reading] === statusCodes.measured;
  const leftMeasured = records[reading + readingFields] === statusCodes.measured;
  const finding = at + childFields.finding;
  const right = equivalent(records, reading + 1) - equivalent(records, finding);
  if (rightMeasured) {
    const readingM = equivalent(records, reading + 1);
    const findingM = equivalent(records, finding);
    const step = Math.min(span, Math.max(-span, Math.round(readingM * stepsPerDioptre))) + span;
    tally.myopia[findingM <= -0.5 ? 1 : 0][step]++;
    tally.hyperopia[findingM >= 3 ? 1 : 0][step]++;
    addTo(tally.difference.M, right);
    addTo(tally.differenceFromLatent, readingM - records[at + childFields.latent]);
    addTo(
      tally.difference.J0,
      j0Of(records[reading + 2], records[reading + 3]) -
        j0Of(records[finding + 1], records[finding + 2]),
    );
    addTo(
      tally.difference.J45,
      j45Of(records[reading + 2], records[reading + 3]) -
        j45Of(records[finding + 1], records[finding + 2]),
    );
  }
  if (rightMeasured && leftMeasured) {
    const left =
      equivalent(records, reading + readingFields + 1) - equivalent(records, finding + 3);
    const { pairs } = tally;
    pairs[0]++;
    pairs[1] += right;
    pairs[2] += left;
    pairs[3] += right * right;
    pairs[4] += left * left;
    pairs[5] += right * left;
  }
}

function equivalent(records: Float64Array, at: number): number {
  return records[at] + records[at + 1] / 2;
}

function addTo(sums: Sums, value: number): void {
  const square = value * value;
  sums.n++;
  sums.first += value;
  sums.second += square;
  sums.third += square * value;
  sums.fourth += square * square;
}
