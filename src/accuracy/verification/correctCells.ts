import { proportionInterval } from "../../inference/index.js";
import {
  type Estimate,
  linearEstimate,
  type TwoByTwo,
  type Undefined,
  undefinedBecause,
} from "../../results/index.js";
import type { Bounds } from "../rateBounds.js";
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
import { emptyCellWords, notesOnCells } from "./cellWords.js";
import type { CorrectedAccuracy } from "./correctedAccuracy.js";
import { boundsOfCounts } from "./verificationBounds.js";
import type { VerificationCells } from "./verificationCells.js";

/** Fewer drawn misses than these: an interval, and no point. */
const fewestDrawnMisses = 3;
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
  settings: { readonly level: number; readonly seed: number; readonly replicates: number },
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
  settings: { readonly level: number; readonly seed: number; readonly replicates: number },
  measures: readonly Measure[],
): DrawnLimits<Measure> {
  const cells = ratedCells(sorted.cells);
  const classes = new Set(
    cells.filter(({ recorded, own }) => recorded === "pass" && !own).map(({ group }) => group),
  ).size;
  return cellDraws(
    cells,
    {
      ...settings,
      replicates: Math.max(1, settings.replicates),
      sizePrior: 0,
      ratePrior: ({ recorded }) => [1 / (3 * (recorded === "pass" ? classes : 1)), 1 / 3],
      rowsPerChild: sorted.rowsPerChild,
    },
    measures,
  );
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

/** A measure with its interval, or why there is none. */
export function measureOf(
  measure: RateMeasure,
  {
    cells,
    value,
    interval,
    within,
    level,
    drawnMisses,
  }: {
    readonly cells: readonly RatedCell[];
    readonly value: number;
    readonly interval: readonly [number, number];
    readonly within: Bounds | Undefined | null;
    readonly level: number;
    readonly drawnMisses: number | null;
  },
): Estimate | Undefined {
  const [low, high] = interval;
  const limits = { low, high, level, method: "verification-draws" };
  const side = sideOf(measure);
  const own = cells.filter(({ studied }) => side === null || studied === side);
  if (own.length === 0) {
    return undefinedBecause(`no child ${side === "refer" ? "was referred" : "passed"}`);
  }
  const blind = own.filter((cell) => cell.blind);
  if (blind.length > 0) {
    const isOpen = blind.some(
      ({ blindDecision, recorded }) => blindDecision && recorded !== "unable",
    );
    return undefinedBecause(emptyCellWords(blind), isOpen ? {} : limits);
  }
  if (Number.isNaN(value)) return undefinedBecause("no child is on that side of the condition");
  if (within?.kind === "bounds" && (value < within.low - 1e-9 || value > within.high + 1e-9)) {
    return undefinedBecause(
      "it would contradict its own counts: the children who are known besides the drawn ones leave no room for it",
    );
  }
  if (measure === "sensitivity" && drawnMisses !== null && drawnMisses < fewestDrawnMisses) {
    return undefinedBecause(
      `fewer than ${fewestDrawnMisses} missed cases were drawn: the interval says what is known, no single value does`,
      limits,
    );
  }
  return {
    kind: "estimate",
    value,
    ...limits,
    low: Math.min(low, value),
    high: Math.max(high, value),
  };
}

/** A measure among those referred or passed by the studied rule needs their cells only. */
function sideOf(measure: RateMeasure): "refer" | "pass" | null {
  if (["positivePredictiveValue", "found", "wronglyReferred"].includes(measure)) return "refer";
  return ["negativePredictiveValue", "missed", "rightlyPassed"].includes(measure) ? "pass" : null;
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
