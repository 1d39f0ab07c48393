import type { KeptConstraint, Performance } from "../accuracy/index.js";
import type { TwoByTwo } from "../results/index.js";
import type { UndecidablePolicy } from "../rows/index.js";
import type { RuleConstraints } from "./bestRule.js";
import type { RulePoint } from "./paretoFront.js";

/** Limits of a rule by criterion; null is "switched off". */
export type RuleLimits = { readonly [criterion: string]: number | null };

/** How often a limit was chosen. */
export interface LimitShare {
  readonly limit: number | null;
  readonly share: number;
}

export interface RangeOfLimit {
  readonly lowest: number | null;
  readonly highest: number | null;
}

/** Rules that cannot be told from the chosen one. */
export interface RulePlateau {
  /** Rules of the front, the chosen one among them. */
  readonly rules: readonly RulePoint[];
  /** Range of each limit over these rules: not every combination within it is on the plateau. */
  readonly ranges: { readonly [criterion: string]: RangeOfLimit };
  /** How far each limit alone can be moved, the others as chosen. */
  readonly alone: { readonly [criterion: string]: RangeOfLimit };
  /** Of the greatest standardised difference of all compared rules. */
  readonly criticalValue: number;
  readonly compared: number;
  readonly level: number;
}

/** The front read at a specificity, and what is left of it once luck is taken off. */
export interface FrontReading {
  readonly specificityAtLeast: number;
  /** Null where no rule reaches the specificity. */
  readonly rule: RulePoint | null;
  /** Sensitivity and specificity minus their optimism over resampled fronts. */
  readonly corrected: Performance | null;
}

/** A search over all rules of a grid, and how much of the found performance is luck. */
export interface RuleSearch {
  readonly kind: "rule-search";
  /** Says that the rule was chosen on these very rows. */
  readonly label: string;
  readonly n: number;
  /** Number of children, where subjects were given. */
  readonly subjects?: number;
  /** Number of sites above them, where `clusters` were given: sites are drawn, and kept whole in folds. */
  readonly sites?: number;
  readonly examined: number;
  readonly ruleCount: number;
  readonly criteria: readonly string[];
  readonly constraints: RuleConstraints;
  readonly undecidable: UndecidablePolicy | null;
  readonly weighting: "none" | "known" | "examination";
  readonly limits: RuleLimits;
  /** Counts, or sums of weights, of the chosen rule on these rows. */
  readonly table: TwoByTwo;
  /** Share of all rows that the chosen rule refers. */
  readonly referralRate: number;
  /** Performance on the rows on which it was chosen: too good. */
  readonly apparent: Performance;
  /** Mean over resamples of performance there minus that on these rows. */
  readonly optimism: Performance;
  /** Apparent minus optimism. */
  readonly corrected: Performance;
  /** Chosen and judged on different children, mean over repeats; null where a fold lacks a class. */
  readonly crossValidated: Performance | null;
  /** Standard error of that mean over repeats: the luck of the folds only; 0 for one repeat. */
  readonly crossValidationError: Performance | null;
  readonly folds: number;
  readonly repeats: number;
  /** Share of resamples that chose each limit, by criterion. */
  readonly stability: { readonly [criterion: string]: readonly LimitShare[] };
  /** What is known of the constrained rate in new children; null where none or both are constrained. */
  readonly constraint: KeptConstraint | null;
  readonly plateau: RulePlateau;
  readonly front: readonly FrontReading[];
  readonly level: number;
  readonly method: string;
  readonly replicates: number;
  /** Resamples without a choice (a class or stratum missing, or no rule within the constraints). */
  readonly failed: number;
  readonly seed: number;
  /** Bytes of counts that one thread held. */
  readonly bytes: number;
  readonly notes: readonly string[];
  readonly caution: string;
}
