import { type Estimate, type Undefined, undefinedBecause } from "../../results/index.js";
import {
  type OutcomeMeasure,
  outcomeMeasures,
  partOfWhole,
  ratedCells,
  rateSums,
} from "./cellRates.js";
import { type DrawnSettings, drawnFrom, heldByCounts, spreadsOf } from "./correctCells.js";
import type { CorrectedAccuracy } from "./correctedAccuracy.js";
import { measureOf } from "./correctedMeasure.js";
import type { VerificationCells } from "./verificationCells.js";

/** What becomes of the screened, as shares of all of them. */
export type OutcomeShares = { readonly [measure in OutcomeMeasure]: Estimate | Undefined };

/**
 * What a referral does to all screened children, by what the exam would say of each: the sums of the
 * corrected accuracy and the same draws, as shares of everybody. Where sensitivity has no point, those
 * missed and those rightly passed have none either.
 */
export function outcomesOfCells(
  sorted: VerificationCells,
  settings: DrawnSettings,
  { sensitivity }: Pick<CorrectedAccuracy, "sensitivity">,
): OutcomeShares {
  const cells = ratedCells(sorted.cells);
  if (cells.length === 0) return everyOutcome(() => undefinedBecause("no child was screened"));
  const limits = drawnFrom(sorted, settings, outcomeMeasures);
  const over = spreadsOf(sorted, settings);
  return everyOutcome((measure) => {
    const own = measureOf(measure, {
      // who was referred is known without an exam
      cells: measure === "referred" ? cells.map((cell) => ({ ...cell, blind: false })) : cells,
      value: outcomeShare(sorted, measure),
      interval: heldByCounts(measure, limits[measure], sorted.counts.verified),
      within: null,
      level: settings.level,
      drawnMisses: null,
      over: over?.(measure),
    });
    const hangsOnMisses = measure === "missed" || measure === "rightlyPassed";
    if (!hangsOnMisses || sensitivity.kind === "estimate" || own.kind === "undefined") return own;
    const { low, high, level, method } = own;
    return undefinedBecause(sensitivity.reason, { low, high, level, method });
  });
}

/** An outcome's share of all screened; NaN where a side has children for whom nobody stands. */
export function outcomeShare(
  { cells: sorted }: VerificationCells,
  measure: OutcomeMeasure,
): number {
  const cells = ratedCells(sorted);
  const all = cells.reduce((sum, { n }) => sum + n, 0);
  const side = measure === "missed" || measure === "rightlyPassed" ? "pass" : "refer";
  const own = cells.filter(({ studied }) => studied === side);
  if (measure === "referred") return own.reduce((sum, { n }) => sum + n, 0) / all;
  if (own.some(({ blind }) => blind)) return Number.NaN;
  return partOfWhole(rateSums(cells), measure)[0] / all;
}

/** A value for each outcome. */
export function everyOutcome<Value>(of: (measure: OutcomeMeasure) => Value): {
  readonly [measure in OutcomeMeasure]: Value;
} {
  return Object.fromEntries(outcomeMeasures.map((measure) => [measure, of(measure)])) as {
    [measure in OutcomeMeasure]: Value;
  };
}
