import { type LimitsOfAgreement, limitsOfAgreement } from "../agreement/index.js";
import {
  caution,
  type ForAudience,
  InputError,
  jointAudience,
  type Undefined,
  undefinedBecause,
} from "../results/index.js";
import {
  type ChildColumns,
  childrenOf,
  clustersOf,
  conditionCodes,
  type PositiveWhen,
  requireDirection,
  requireNumbers,
  sitesOf,
  takeClusters,
  takeColumns,
  type YesNoColumn,
} from "../rows/index.js";
import { type ThresholdValidation, validateThreshold } from "./validateThreshold.js";

/** What one repeat limit on the confidence score costs and buys. */
export interface ScoreStep {
  /** Readings with a worse score are dropped; null drops none, unscored ones included. */
  readonly scoreLimit: number | null;
  readonly kept: number;
  readonly lost: number;
  readonly shareLost: number;
  /** Children, or rows without subjects, of whom no reading is left. */
  readonly childrenLost: number;
  readonly shareOfChildrenLost: number;
  readonly agreement: LimitsOfAgreement | Undefined;
  readonly accuracy: ThresholdValidation | Undefined;
}

/** What a limit on the confidence score buys and costs. */
export interface ScoreTradeoff extends ForAudience {
  readonly kind: "score-tradeoff";
  readonly n: number;
  readonly subjects: number;
  /** Readings without a score: lost at every limit. */
  readonly unscored: number;
  readonly betterWhen: PositiveWhen;
  readonly steps: readonly ScoreStep[];
  readonly notes: readonly string[];
  readonly caution: string;
}

/**
 * What a limit on the instrument's confidence score buys and costs: for each limit, limits of
 * agreement and accuracy of the readings kept, and the share of readings and of children lost.
 *
 * A child without a reading is not a pass: whoever is lost has to be read again or referred, and is
 * in none of the accuracy figures. Intervals as in `limitsOfAgreement` and `validateThreshold`;
 * without `subjects` rows are taken as independent.
 *
 * @param data test and reference in dioptres, confidenceScore (NaN where none was given), condition
 * @param options which end of the score is better, the limits (every distinct score by default), and
 *   the referral of the reading: cutOff and positiveWhen
 * @throws on faulty columns
 *
 * @example
 * scoreTradeoff({ test: [-4, -3, -1, 0, 1, 2], reference: [-4, -3.5, -1, 0.5, 1, 2.5], confidenceScore: [9, 5, 9, 9, 5, 9], condition: [1, 1, 0, 0, 0, 0] }, { betterWhen: "high", positiveWhen: "low", cutOff: -3 }).steps[2].lost // => 2
 */
export function scoreTradeoff(
  data: ChildColumns & {
    readonly test: ArrayLike<number>;
    readonly reference: ArrayLike<number>;
    readonly confidenceScore: ArrayLike<number>;
    readonly condition: YesNoColumn;
  },
  options: {
    readonly betterWhen: PositiveWhen;
    readonly scoreLimits?: ArrayLike<number>;
    readonly positiveWhen: PositiveWhen;
    readonly cutOff: number;
    readonly level?: number;
  },
): ScoreTradeoff {
  const caller = "scoreTradeoff";
  const { betterWhen, level } = options;
  requireDirection(caller, betterWhen, "betterWhen");
  const codes = conditionCodes(caller, "condition", data.condition);
  const n = codes.length;
  const { test, reference, units } = data;
  const columns = { test, reference, condition: codes, units };
  requireNumbers(caller, "test", data.test, n);
  requireNumbers(caller, "reference", data.reference, n);
  requireNumbers(caller, "confidenceScore", data.confidenceScore, n, { missing: "NaN" });
  if (n === 0) throw new InputError(`${caller} requires at least 1 row, got none`);
  const scores = Array.from(data.confidenceScore);
  const endless = scores.findIndex((score) => Math.abs(score) === Number.POSITIVE_INFINITY);
  if (endless >= 0) {
    throw new InputError(
      `${caller} requires finite numbers in confidenceScore (NaN where missing), got ${scores[endless]} in row ${endless}`,
    );
  }
  const children = childrenOf(caller, data, n);
  sitesOf(caller, data, children);
  clustersOf(caller, units, n, "units");
  const childOf = (row: number) => children.ofRow[row];
  const subjects = children.count;
  const keeps = (score: number, limit: number) =>
    betterWhen === "high" ? score >= limit : score <= limit;
  const given = options.scoreLimits ?? scores.filter((score) => !Number.isNaN(score));
  const limits = [...new Set(Array.from(given))].sort((a, b) =>
    betterWhen === "high" ? a - b : b - a,
  );
  const step = (scoreLimit: number | null): ScoreStep => {
    const rows = scores
      .map((_, row) => row)
      .filter((row) => scoreLimit === null || keeps(scores[row], scoreLimit));
    const left = new Set(rows.map(childOf)).size;
    const { condition, ...taken } = takeColumns(columns, rows);
    const whose = takeClusters(data, rows);
    const part = { ...taken, ...whose };
    return {
      scoreLimit,
      kept: rows.length,
      lost: n - rows.length,
      shareLost: (n - rows.length) / n,
      childrenLost: subjects - left,
      shareOfChildrenLost: (subjects - left) / subjects,
      agreement:
        left < 3
          ? undefinedBecause("fewer than 3 children are left")
          : limitsOfAgreement(part, { level, conditional: "skip" }),
      accuracy:
        rows.length === 0
          ? undefinedBecause("no reading is left")
          : validateThreshold({ values: part.test, condition, ...whose }, options),
    };
  };
  return {
    kind: "score-tradeoff",
    ...jointAudience(data),
    n,
    subjects,
    unscored: scores.filter(Number.isNaN).length,
    betterWhen,
    steps: [null, ...limits].map(step),
    notes: [
      "A child without a reading is not a pass: the lost are in none of the accuracy figures.",
      "A limit chosen from this table was chosen on these rows; test it on others.",
    ],
    caution,
  };
}
