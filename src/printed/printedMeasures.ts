import type { TwoByTwo } from "../results/index.js";
import type { ShareMeasure } from "./tableSearch.js";

/** Measures of a 2x2 table that are no share of counts. */
export type RatioMeasure =
  | "positiveLikelihoodRatio"
  | "negativeLikelihoodRatio"
  | "diagnosticOddsRatio"
  | "youdenIndex";

/** Every measure that can be read from print. */
export type PrintedMeasure = ShareMeasure | RatioMeasure;

/** The part and the total behind each share. */
export const shareCounts: Readonly<
  Record<ShareMeasure, (table: TwoByTwo) => readonly [part: number, total: number]>
> = {
  sensitivity: (t) => [t.truePositive, t.truePositive + t.falseNegative],
  specificity: (t) => [t.trueNegative, t.trueNegative + t.falsePositive],
  positivePredictiveValue: (t) => [t.truePositive, t.truePositive + t.falsePositive],
  negativePredictiveValue: (t) => [t.trueNegative, t.trueNegative + t.falseNegative],
  prevalence: (t) => [t.truePositive + t.falseNegative, tableSize(t)],
  referralRate: (t) => [t.truePositive + t.falsePositive, tableSize(t)],
  overallAccuracy: (t) => [t.truePositive + t.trueNegative, tableSize(t)],
};

const ratioParts: Readonly<
  Record<RatioMeasure, (table: TwoByTwo) => readonly [numerator: number, denominator: number]>
> = {
  positiveLikelihoodRatio: (t) => [
    t.truePositive * (t.falsePositive + t.trueNegative),
    t.falsePositive * (t.truePositive + t.falseNegative),
  ],
  negativeLikelihoodRatio: (t) => [
    t.falseNegative * (t.falsePositive + t.trueNegative),
    t.trueNegative * (t.truePositive + t.falseNegative),
  ],
  diagnosticOddsRatio: (t) => [t.truePositive * t.trueNegative, t.falsePositive * t.falseNegative],
  youdenIndex: (t) => [
    t.truePositive * t.trueNegative - t.falsePositive * t.falseNegative,
    (t.truePositive + t.falseNegative) * (t.falsePositive + t.trueNegative),
  ],
};

/** Names of the measures that are shares. */
const shareMeasures = Object.keys(shareCounts) as readonly ShareMeasure[];

/** Names of all measures. */
export const printedMeasures = [
  ...shareMeasures,
  ...(Object.keys(ratioParts) as RatioMeasure[]),
] as readonly PrintedMeasure[];

/** The name in words: "positive predictive value". */
export const wordsOf = (name: string): string =>
  name.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);

/** Is the measure a share of counts? */
export const isShare = (measure: PrintedMeasure): measure is ShareMeasure =>
  Object.hasOwn(shareCounts, measure);

/** The measure from the counts; undefined where its denominator is 0. */
export function measureOf(table: TwoByTwo, measure: PrintedMeasure): number | undefined {
  const [part, total] = isShare(measure) ? shareCounts[measure](table) : ratioParts[measure](table);
  return total === 0 ? undefined : part / total;
}

const tableSize = (t: TwoByTwo): number =>
  t.truePositive + t.falsePositive + t.falseNegative + t.trueNegative;
