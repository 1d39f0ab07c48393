// Published tables taken apart: counts behind print, interval methods, misprints.

export {
  type CheckedLimits,
  checkPrintedLimits,
  type LimitsMultiplier,
  type LimitsName,
  type PrintedLimits,
} from "./checkPrintedLimits.js";
export {
  type CheckedMean,
  checkPrintedMean,
  type MeanIntervalMethod,
  type PrintedMean,
} from "./checkPrintedMean.js";
export type { CellRange } from "./collectTables.js";
export type { ComparedNumber, PrintedVerdict } from "./comparedNumber.js";
export { comparePrinted, type PrintedComparison } from "./comparePrinted.js";
export type { GridCheck } from "./gridValues.js";
export type { IntervalMethod } from "./intervalMethods.js";
export type { PrintedIntervals } from "./intervalsFit.js";
export {
  type Converted,
  type ConvertedLimits,
  limitsFromSd,
  sdFromLimits,
  sdFromMeanInterval,
} from "./limitsAndSd.js";
export {
  type IntervalMatch,
  matchIntervalMethod,
  type TriedInterval,
} from "./matchIntervalMethod.js";
export type { NearMiss, WithoutOne } from "./nearMisses.js";
export {
  type PossibleFraction,
  type PossibleFractions,
  possibleFractions,
} from "./possibleFractions.js";
export type {
  PrintedChoice,
  PrintedDirection,
  PrintedEyes,
  ReproduceOptions,
} from "./printedChoices.js";
export { printedComparisonTable } from "./printedComparisonTable.js";
export { type PrintedMeasure, type RatioMeasure, wordsOf } from "./printedMeasures.js";
export { type PrintedFit, printedNumber, type RoundingRange } from "./printedNumber.js";
export type { KnownCount, PrintedTwoByTwo } from "./printedSearch.js";
export type { PrintedUnit } from "./printedShare.js";
export { type PrintedRow, readPrintedRows } from "./readPrintedRows.js";
export {
  type ReconstructedTable,
  type ReconstructOptions,
  reconstructTwoByTwo,
} from "./reconstructTwoByTwo.js";
export type { ShareMeasure } from "./tableSearch.js";
export { printedReproductionTable } from "./printedReproductionTable.js";
export {
  type PrintedReproduction,
  type ReproducingChoice,
  reproducePrinted,
} from "./reproducePrinted.js";
