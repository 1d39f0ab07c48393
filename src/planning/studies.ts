import type { PlannedInterval } from "./expectedInterval.js";

/** One number for sensitivity, one for specificity; at least one of them. */
export interface RatesAimed {
  readonly sensitivity?: number;
  readonly specificity?: number;
}

/** What a study of referral accuracy expects and wants. */
export interface AccuracyStudy {
  readonly kind?: "accuracy";
  readonly note?: string;
  readonly expected: {
    readonly sensitivity: number;
    readonly specificity: number;
    /** Share of children (of eyes, where eyes are analysed) with the condition. */
    readonly prevalence: number;
  };
  /**
   * `halfWidth` (half the interval's width) or `width`, or that the intervals lie wholly above the
   * minima with the given power. Without an aim the precision table alone is made, for `at`.
   */
  readonly aim?:
    | { readonly halfWidth: RatesAimed }
    | { readonly width: RatesAimed }
    | { readonly minimum: RatesAimed; readonly power: number };
  /** "wilson" by default; "wald" is there to reproduce print. */
  readonly interval?: PlannedInterval;
  /** Of the two-sided interval, 0.95 by default. */
  readonly level?: number;
  /** Share of children without a usable reading and finding, 0 by default. */
  readonly lost?: number;
  /**
   * Chance that the study finds enough children with and without the condition. Without it the
   * expected numbers are enough, which is reached in about half of studies.
   */
  readonly assurance?: number;
  /** Both eyes are analysed: eyes of a child and the correlation of their outcomes. */
  readonly eyes?: { readonly perChild: number; readonly correlation: number };
  /**
   * Sites (schools) above children: children of each, and the correlation of the outcomes of two of
   * one site on one side of the condition. With a half-width or width.
   */
  readonly sites?: { readonly perSite: number; readonly correlation: number };
  /**
   * Not every child is examined: of the referred the given share (1 by default), and a random share
   * of the passes. Either that share is given, or the number of children screened.
   */
  readonly verification?: {
    readonly shareOfPasses?: number;
    readonly children?: number;
    readonly shareOfReferred?: number;
  };
  /** Numbers of children for the precision table. */
  readonly at?: readonly number[];
}

/** What a study of agreement expects and wants; in one unit, dioptres as a rule. */
export interface AgreementStudy {
  readonly kind?: "agreement";
  readonly note?: string;
  readonly expected: {
    /** SD of the differences, or within-subject SD for repeats. */
    readonly sd: number;
    /** Mean difference, test minus reference; 0 by default. */
    readonly bias?: number;
  };
  /**
   * The intervals of both limits lie wholly within ± `within` with the given power; or the interval
   * of a limit has the half-width; or, from `repeats` readings a child, the within-subject SD has a
   * half-width of the given share of itself.
   */
  readonly aim:
    | { readonly within: number; readonly power: number }
    | { readonly halfWidth: number }
    | { readonly repeats: number; readonly relativeHalfWidth: number };
  /** "exact" by default; "approximate"; "lu-2016" is the interval of that paper. */
  readonly interval?: "exact" | "approximate" | "lu-2016";
  /** 0.95 by default. */
  readonly level?: number;
  /** Central share of differences between the limits, 0.95 by default. */
  readonly coverage?: number;
  readonly lost?: number;
  readonly at?: readonly number[];
}

/** What a study of an area under the ROC curve expects and wants. */
export interface AreaStudy {
  readonly kind?: "area";
  readonly note?: string;
  readonly expected: {
    readonly area: number;
    /** Share with the condition among the children of the study. */
    readonly prevalence: number;
    /** A second test read in the same children, and the correlation of the two areas. */
    readonly second?: { readonly area: number; readonly correlation: number };
  };
  /**
   * `halfWidth` of the area's interval; or that the interval lies wholly above an area; or, with a
   * second test, that the areas are found to differ.
   */
  readonly aim:
    | { readonly halfWidth: number }
    | { readonly above: number; readonly power: number }
    | { readonly differencePower: number };
  /** "binormal" by default; "obuchowski" and "hanley-mcneil" are the published formulas. */
  readonly variance?: "binormal" | "obuchowski" | "hanley-mcneil";
  /**
   * How "above" is decided: "interval" by default, the logit interval of `areaUnderCurve`;
   * "null-variance" is the z test of Obuchowski and McClish 1997.
   */
  readonly test?: "interval" | "null-variance";
  /** 0.95 by default. */
  readonly level?: number;
  readonly lost?: number;
  readonly at?: readonly number[];
}
