import type { Sums, Tally } from "./tally.js";

/** A number from a long run, with the standard error that the run's length leaves. */
export interface MonteCarlo {
  readonly value: number;
  readonly monteCarloError: number;
}

/** Counts of children by decision, with and without the condition. */
export interface DecisionCounts {
  readonly refer: { readonly with: number; readonly without: number };
  readonly pass: { readonly with: number; readonly without: number };
  readonly undecidable: { readonly with: number; readonly without: number };
}

/** Accuracy by child; undecidable children count as the programme treats them. */
export interface TrueAccuracy {
  readonly prevalence: MonteCarlo;
  readonly sensitivity: MonteCarlo;
  readonly specificity: MonteCarlo;
  readonly positivePredictiveValue: MonteCarlo;
  readonly negativePredictiveValue: MonteCarlo;
}

/** Reading minus finding over measured right eyes. */
export interface TrueDifference {
  readonly n: number;
  readonly bias: MonteCarlo;
  readonly sd: MonteCarlo;
}

/** What is true of a scenario, for estimators to find. */
export interface ScenarioTruth {
  readonly kind: "scenario-truth";
  readonly scenario: string;
  /** Marks the parameters it was computed with: SHA-256 of their JSON, first 16 digits. */
  readonly fingerprint: string;
  readonly n: number;
  readonly seed: number;
  readonly undecidable: "refer" | "pass";
  readonly referralRate: MonteCarlo;
  /** Every child, as if all were examined. */
  readonly byFinding: { readonly counts: DecisionCounts; readonly accuracy: TrueAccuracy };
  readonly byLatent: { readonly counts: DecisionCounts; readonly accuracy: TrueAccuracy };
  /** Those examined, by reason, with the condition by finding. */
  readonly examined: {
    readonly referred: DecisionCounts;
    readonly sampled: DecisionCounts;
    readonly selfPresented: DecisionCounts;
  };
  /** Children whose condition shows in one layer only. */
  readonly conditionByFindingOnly: number;
  readonly conditionByLatentOnly: number;
  readonly difference: {
    readonly M: TrueDifference;
    readonly J0: TrueDifference;
    readonly J45: TrueDifference;
  };
  /** Reading minus latent value, M. */
  readonly differenceFromLatent: TrueDifference;
  /** Correlation of the two eyes' differences in M. */
  readonly eyeCorrelation: MonteCarlo;
  /** Right eyes: area of the reading's M against a finding of M <= -0.50 D, positive when low. */
  readonly areaMyopia: MonteCarlo;
  /** Right eyes: area of the reading's M against a finding of M >= +3.00 D, positive when high. */
  readonly areaHyperopia: MonteCarlo;
}

/** Turns a tally into the truth of a scenario, with the Monte Carlo error of each number. */
export function truthOfTally(
  tally: Tally,
  run: {
    readonly scenario: string;
    readonly fingerprint: string;
    readonly seed: number;
    readonly refersUndecidable: boolean;
  },
): ScenarioTruth {
  const { refersUndecidable } = run;
  const byFinding = decisionCounts(tally.byFinding, 0);
  const byLatent = decisionCounts(tally.byLatent, 0);
  const sum = ({ with: one, without: other }: { with: number; without: number }) => one + other;
  const referred = sum(byFinding.refer) + (refersUndecidable ? sum(byFinding.undecidable) : 0);
  return {
    kind: "scenario-truth",
    scenario: run.scenario,
    fingerprint: run.fingerprint,
    n: tally.children,
    seed: run.seed,
    undecidable: refersUndecidable ? "refer" : "pass",
    referralRate: share(referred, tally.children),
    byFinding: { counts: byFinding, accuracy: accuracyOf(byFinding, refersUndecidable) },
    byLatent: { counts: byLatent, accuracy: accuracyOf(byLatent, refersUndecidable) },
    examined: {
      referred: decisionCounts(tally.examined, 0),
      sampled: decisionCounts(tally.examined, 6),
      selfPresented: decisionCounts(tally.examined, 12),
    },
    conditionByFindingOnly: tally.findingOnly,
    conditionByLatentOnly: tally.latentOnly,
    difference: {
      M: differenceOf(tally.difference.M),
      J0: differenceOf(tally.difference.J0),
      J45: differenceOf(tally.difference.J45),
    },
    differenceFromLatent: differenceOf(tally.differenceFromLatent),
    eyeCorrelation: correlationOf(tally.pairs),
    areaMyopia: areaOf(tally.myopia[1].toReversed(), tally.myopia[0].toReversed()),
    areaHyperopia: areaOf(tally.hyperopia[1], tally.hyperopia[0]),
  };
}

function decisionCounts(cells: Float64Array, at: number): DecisionCounts {
  const pair = (decision: number) => ({
    with: cells[at + 2 * decision + 1],
    without: cells[at + 2 * decision],
  });
  return { refer: pair(0), pass: pair(1), undecidable: pair(2) };
}

function accuracyOf(counts: DecisionCounts, refersUndecidable: boolean): TrueAccuracy {
  const positive = refersUndecidable ? counts.undecidable : { with: 0, without: 0 };
  const negative = refersUndecidable ? { with: 0, without: 0 } : counts.undecidable;
  const truePositive = counts.refer.with + positive.with;
  const falsePositive = counts.refer.without + positive.without;
  const falseNegative = counts.pass.with + negative.with;
  const trueNegative = counts.pass.without + negative.without;
  const all = truePositive + falsePositive + falseNegative + trueNegative;
  return {
    prevalence: share(truePositive + falseNegative, all),
    sensitivity: share(truePositive, truePositive + falseNegative),
    specificity: share(trueNegative, trueNegative + falsePositive),
    positivePredictiveValue: share(truePositive, truePositive + falsePositive),
    negativePredictiveValue: share(trueNegative, trueNegative + falseNegative),
  };
}

function share(part: number, whole: number): MonteCarlo {
  const value = part / whole;
  return { value, monteCarloError: Math.sqrt((value * (1 - value)) / whole) };
}

function differenceOf({ n, first, second, third, fourth }: Sums): TrueDifference {
  const bias = first / n;
  const variance = second / n - bias * bias;
  const centralFourth =
    fourth / n - (4 * bias * third) / n + (6 * bias * bias * second) / n - 3 * bias ** 4;
  const sd = Math.sqrt(variance * (n / (n - 1)));
  return {
    n,
    bias: { value: bias, monteCarloError: sd / Math.sqrt(n) },
    sd: {
      value: sd,
      monteCarloError: Math.sqrt((centralFourth - variance * variance) / (4 * variance * n)),
    },
  };
}

/** Pearson's correlation; its error as under normality, (1 - r²)/sqrt(n). */
function correlationOf([n, x, y, xx, yy, xy]: Float64Array): MonteCarlo {
  const value = (xy - (x * y) / n) / Math.sqrt((xx - (x * x) / n) * (yy - (y * y) / n));
  return { value, monteCarloError: (1 - value * value) / Math.sqrt(n) };
}

/** Area where higher steps are positive, ties by half; its error by DeLong 1988, from counts. */
function areaOf(withCondition: Float64Array, without: Float64Array): MonteCarlo {
  const total = (counts: Float64Array) => counts.reduce((sum, count) => sum + count, 0);
  const cases = total(withCondition);
  const others = total(without);
  let area = 0;
  let below = 0;
  let caseSquares = 0;
  for (let step = 0; step < without.length; step++) {
    const placement = (below + without[step] / 2) / others;
    area += withCondition[step] * placement;
    caseSquares += withCondition[step] * placement * placement;
    below += without[step];
  }
  area /= cases;
  let above = cases;
  let otherSquares = 0;
  for (let step = 0; step < without.length; step++) {
    above -= withCondition[step];
    const placement = (above + withCondition[step] / 2) / cases;
    otherSquares += without[step] * placement * placement;
  }
  const caseVariance = caseSquares / cases - area * area;
  const otherVariance = otherSquares / others - area * area;
  return {
    value: area,
    monteCarloError: Math.sqrt(caseVariance / cases + otherVariance / others),
  };
}
