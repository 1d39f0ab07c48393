import { randomBinomial } from "d3-random";
import {
  type CorrectVerificationOptions,
  correctVerification,
} from "../../../src/accuracy/index.js";
import { createRandom } from "../../../src/inference/index.js";

/** A simulated programme: everyone screened, referrals examined at a rate, passes at another. */
export interface Programme {
  readonly children: number;
  readonly prevalence: number;
  readonly sensitivity: number;
  readonly specificity: number;
  /** Share of referrals who come to the exam. */
  readonly attendance: number;
  /** Share of passes drawn at random for an exam. */
  readonly passesExamined: number;
  /** How many times as often a pass with the condition comes; 1 is a random draw. */
  readonly selfPresenting?: number;
}

export interface ProgrammeResult {
  readonly programmes: number;
  /** Programmes in which sensitivity could be estimated. */
  readonly estimable: number;
  readonly mean: number;
  readonly monteCarloError: number;
  /** A var(B) / (A + B)³ at the truth. */
  readonly ratioBias: number;
  readonly coverage: number;
  /** Missed cases among the passes examined, on average. */
  readonly missedExamined: number;
}

/** Draws programmes and corrects each of them. */
export function simulateProgrammes(
  programme: Programme,
  programmes: number,
  seed: number,
  options: CorrectVerificationOptions = {},
): ProgrammeResult {
  const { children, prevalence, sensitivity, specificity, attendance, passesExamined } = programme;
  const times = programme.selfPresenting ?? 1;
  const { uniform } = createRandom(seed);
  const binomial = randomBinomial.source(uniform);
  const draw = (n: number, p: number) => (n === 0 ? 0 : binomial(n, p)());
  let estimable = 0;
  let sum = 0;
  let squares = 0;
  let covered = 0;
  let missed = 0;
  for (let round = 0; round < programmes; round++) {
    const diseased = draw(children, prevalence);
    const tp = draw(diseased, sensitivity);
    const fp = draw(children - diseased, 1 - specificity);
    const fn = diseased - tp;
    const tn = children - diseased - fp;
    const verified = {
      truePositive: draw(tp, attendance),
      falsePositive: draw(fp, attendance),
      falseNegative: draw(fn, Math.min(1, passesExamined * times)),
      trueNegative: draw(tn, passesExamined),
    };
    const result = correctVerification(
      {
        verified,
        unverified: {
          testPositive: tp + fp - verified.truePositive - verified.falsePositive,
          testNegative: fn + tn - verified.falseNegative - verified.trueNegative,
        },
      },
      // by draws: tests/coverage/accuracy/decisions.ts
      { method: "logit", replicates: 1000, seed: round + 1, ...options },
    );
    if (result.sensitivity.kind === "undefined") continue;
    const { value, low, high } = result.sensitivity;
    estimable++;
    sum += value;
    squares += value * value;
    missed += verified.falseNegative;
    if (low <= sensitivity && sensitivity <= high) covered++;
  }
  const mean = sum / estimable;
  const variance = (squares - estimable * mean ** 2) / (estimable - 1);
  return {
    programmes,
    estimable,
    mean,
    monteCarloError: Math.sqrt(variance / estimable),
    ratioBias: ratioBias(programme),
    coverage: covered / estimable,
    missedExamined: missed / estimable,
  };
}

function ratioBias(programme: Programme): number {
  const { children, prevalence, sensitivity, specificity, passesExamined } = programme;
  const a = prevalence * sensitivity;
  const b = prevalence * (1 - sensitivity);
  const passed = b + (1 - prevalence) * specificity;
  const rate = b / passed;
  const variance =
    (passed * rate ** 2 - b ** 2) / children +
    (passed * rate * (1 - rate)) / (children * passesExamined);
  return (a * variance) / (a + b) ** 3;
}
