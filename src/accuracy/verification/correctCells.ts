import { proportionInterval } from "../../inference/index.js";
import {
  type Estimate,
  linearEstimate,
  type TwoByTwo,
  type Undefined,
  undefinedBecause,
} from "../../results/index.js";
import type { CellCount } from "./cellCounts.js";
import { cellDraws, type DrawnLimits } from "./cellDraws.js";
import {
  type CorrectedMeasure,
  correctedMeasures,
  partOfWhole,
  type RatedCell,
  type RateMeasure,
  ratedCells,
  rateSums,
  ratioBiasOf,
} from "./cellRates.js";
import { notesOnCells } from "./cellWords.js";
import type { CorrectedAccuracy } from "./correctedAccuracy.js";
import { measureOf } from "./correctedMeasure.js";
import { type SiteSpread, siteSpread } from "./siteSpread.js";
import { boundsOfCounts } from "./verificationBounds.js";
import type { VerificationCells } from "./verificationCells.js";

/** Of the draws; with sites above the children, what each of them adds to each cell. */
export interface DrawnSettings {
  readonly level: number;
  readonly seed: number;
  readonly replicates: number;
  readonly bySite?: readonly (readonly CellCount[])[];
}

/** Below this many the bias of the ratio is printed. */
const biasPrintedBelow = 10;

/**
 * Accuracy of all screened children from the cells: sums of size times rate, percentile limits of
 * draws, bounds that keep every known child. Nothing contradicts its counts: a value outside its
 * bounds becomes undefined with the reason, and an upper limit is 1 only where no miss is known.
 *
 * @param refused why nothing can be corrected, where the caller knows a reason; bounds stay
 */
export function correctCells(
  sorted: VerificationCells,
  settings: DrawnSettings,
  refused?: string,
): CorrectedAccuracy {
  const { level } = settings;
  const cells = ratedCells(sorted.cells);
  const bounds = boundsOfCounts(sorted.counts);
  const { verified, unverified } = sorted.counts;
  const sums = rateSums(cells);
  const drawnMisses = drawnMissesOf(cells);
  const limits =
    refused === undefined && cells.length > 0
      ? drawnFrom(sorted, settings, correctedMeasures)
      : null;
  const over = spreadsOf(sorted, settings);
  const estimate = (measure: CorrectedMeasure): Estimate | Undefined =>
    refused !== undefined || limits === null
      ? undefinedBecause(refused ?? "no child was screened")
      : measureOf(measure, {
          cells,
          value: ratio(partOfWhole(sums, measure, sorted.n)),
          interval: heldByCounts(measure, limits[measure], verified),
          within: measure === "found" ? null : bounds[measure],
          level,
          drawnMisses,
          over: over?.(measure),
        });
  const sensitivity = estimate("sensitivity");
  const found = estimate("found");
  return {
    kind: "corrected-accuracy",
    n: sorted.n,
    examined: {
      testPositive: verified.truePositive + verified.falsePositive,
      testNegative: verified.falseNegative + verified.trueNegative,
    },
    unexamined: unverified,
    cells: sorted.cells,
    knownOnly: sorted.knownOnly,
    drawnMisses,
    level,
    ...(settings.bySite && { sites: settings.bySite.length }),
    method: "draws",
    sensitivity,
    specificity: estimate("specificity"),
    positivePredictiveValue: estimate("positivePredictiveValue"),
    negativePredictiveValue: estimate("negativePredictiveValue"),
    prevalence: estimate("prevalence"),
    yieldPer1000: linearEstimate(found, 1000),
    naive: naiveRates(verified, level),
    bounds,
    ratioBias: sensitivity.kind === "estimate" ? ratioBiasOf(cells) : null,
    notes: notesOnCells(
      sorted,
      cells,
      sensitivity.kind === "estimate" && drawnMisses !== null && drawnMisses < biasPrintedBelow
        ? ratioBiasOf(cells)
        : null,
    ),
  };
}

/** Percentile limits of measures over draws of the cells. */
export function drawnFrom<Measure extends RateMeasure>(
  sorted: VerificationCells,
  settings: DrawnSettings,
  measures: readonly Measure[],
): DrawnLimits<Measure> {
  const cells = ratedCells(sorted.cells);
  const classes = new Set(
    cells.filter(({ recorded, own }) => recorded === "pass" && !own).map(({ group }) => group),
  ).size;
  const over = spreadsOf(sorted, settings);
  return cellDraws(
    cells,
    {
      ...settings,
      ...(over && { wider: (measure: RateMeasure) => over(measure).times }),
      replicates: Math.max(1, settings.replicates),
      sizePrior: 0,
      // passes of several shares count one case more between them, not one each
      rates: ({ recorded, own }) => 1 / (2 * (recorded === "pass" && !own ? classes : 1)),
      rowsPerChild: sorted.rowsPerChild,
    },
    measures,
  );
}

/** How sites widen each measure, where there are any. */
export function spreadsOf(
  sorted: VerificationCells,
  { bySite, level }: DrawnSettings,
): ((measure: RateMeasure) => SiteSpread) | undefined {
  if (bySite === undefined) return undefined;
  const cells = ratedCells(sorted.cells);
  const { rowsPerChild } = sorted;
  const known = new Map<RateMeasure, SiteSpread>();
  return (measure) => {
    const spread =
      known.get(measure) ?? siteSpread(cells, bySite, measure, { level, rowsPerChild });
    known.set(measure, spread);
    return spread;
  };
}

/** Sensitivity and specificity of the examined, as they came. */
export function naiveRates(
  { truePositive, falsePositive, falseNegative, trueNegative }: TwoByTwo,
  level: number,
): CorrectedAccuracy["naive"] {
  return {
    sensitivity: proportionInterval(
      { successes: truePositive, trials: truePositive + falseNegative },
      { level },
    ),
    specificity: proportionInterval(
      { successes: trueNegative, trials: trueNegative + falsePositive },
      { level },
    ),
  };
}

/** Missed cases among passes who stand for others; null where no pass needs anybody to stand for him. */
function drawnMissesOf(cells: readonly RatedCell[]): number | null {
  const standing = cells.filter(
    ({ recorded, studied, own, n, examined }) =>
      recorded === "pass" && studied === "pass" && !own && n > examined,
  );
  return standing.length === 0 ? null : standing.reduce((sum, { cases }) => sum + cases, 0);
}

/** Limits at 0 and 1 exactly where no child is known who is right, or wrong. */
export function heldByCounts(
  measure: RateMeasure,
  [low, high]: readonly [number, number],
  known: TwoByTwo,
): [number, number] {
  const [right, whole] = partOfWhole(known, measure);
  return [
    right === 0 ? 0 : Math.max(low, Number.MIN_VALUE),
    right === whole ? 1 : Math.min(high, 1 - Number.EPSILON),
  ];
}

const ratio = ([part, whole]: readonly [number, number]) => part / whole;
