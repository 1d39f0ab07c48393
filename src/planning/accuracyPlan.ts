import type { Estimate, Undefined } from "../results/index.js";
import type { PlannedInterval } from "./expectedInterval.js";

export type PlannedMeasure = "sensitivity" | "specificity";

/** What a study of so many children is expected to give. */
export interface AccuracyPlanRow {
  /** Children screened. */
  readonly n: number;
  /** Expected rows with the condition: children, or eyes where eyes are analysed. */
  readonly withCondition: number;
  readonly withoutCondition: number;
  /** Expected children referred, among those with a usable reading. */
  readonly referred: number;
  /** Expected exams. */
  readonly examined: number;
  /** Expected exams of children who passed. */
  readonly examinedPasses: number;
  readonly sensitivity: Estimate | Undefined;
  readonly specificity: Estimate | Undefined;
  /** Chance that all minima are shown; null where none is asked for. */
  readonly power: number | null;
}

/** Rows that one aim needs, and the children expected to hold them. */
export interface AccuracyNeed {
  readonly measure: PlannedMeasure;
  readonly wanted: number;
  /** With the condition for sensitivity, without it for specificity. */
  readonly rowCount: number | Undefined;
  readonly n: number | Undefined;
}

/** How many children an accuracy study needs, and what it is expected to give. */
export interface AccuracyPlan {
  readonly kind: "accuracy-plan";
  readonly aim: "half-width" | "goals" | "none";
  /** Children to screen. */
  readonly n: number | Undefined;
  readonly needs: readonly AccuracyNeed[];
  readonly row: "child" | "eye";
  readonly level: number;
  readonly method: PlannedInterval | "logit";
  /** Rows of one that carry as much as one independent row. */
  readonly designEffect: number;
  /** Share of passes to examine at random; null where every child is examined. */
  readonly shareOfPasses: number | Undefined | null;
  /** Chance that n children hold the rows needed; null where it is not defined. */
  readonly chanceOfEnough: number | null;
  readonly wantedPower: number | null;
  /** At n. */
  readonly planned: AccuracyPlanRow | null;
  readonly table: readonly AccuracyPlanRow[];
  readonly assumptions: readonly string[];
  readonly caution: string;
}

/** Half-widths or minima, as asked for. */
export type Wanted = readonly { readonly measure: PlannedMeasure; readonly value: number }[];
