import { randomBeta, randomBinomial } from "d3-random";
import { createRandom, requireLevel, tQuantile } from "../../inference/index.js";
import {
  type Estimate,
  formerNames,
  type Undefined,
  undefinedBecause,
} from "../../results/index.js";
import { requireWhole } from "../../rows/index.js";
import { type VerificationCounts, verificationStrata } from "./verificationStrata.js";

/** A pooled rate, and how much it moves with the seed. */
export type ImputedRate = Estimate & {
  /** Standard errors of the simulation, by a jackknife over completions; null with 2 of them. */
  readonly monteCarloError: {
    readonly value: number;
    readonly low: number;
    readonly high: number;
  } | null;
};

/** Accuracy pooled over imputed completions. */
export interface ImputedAccuracy {
  readonly kind: "imputed-accuracy";
  readonly n: number;
  readonly replicates: number;
  readonly seed: number;
  readonly level: number;
  readonly sensitivity: ImputedRate | Undefined;
  readonly specificity: ImputedRate | Undefined;
}

/**
 * Multiple imputation of the unexamined: each completion draws the rate of the condition in each
 * stratum and test result from Beta(cases + 1/2, others + 1/2), then the unexamined from a binomial
 * (after Harel and Zhou 2006); completions are pooled on the logit scale by Rubin's rules (1987).
 * A cell of 0 in a completion has 1/2 added to it and its partner. Same assumption as
 * `correctVerification`, and as there children are taken as independent; how much the answer moves with the
 * seed is printed as `monteCarloError`.
 *
 * Rates are proportions, 0 to 1.
 *
 * @param options `replicates` 100 and `seed` 1 by default
 * @throws when counts are invalid or fewer than 2 replicates are asked for
 *
 * @example
 * imputeVerification({ verified: { truePositive: 80, falsePositive: 20, falseNegative: 0, trueNegative: 0 }, unverified: { testPositive: 0, testNegative: 800 } }).sensitivity.kind // => "undefined"
 */
export function imputeVerification(
  counts: VerificationCounts,
  options: {
    readonly replicates?: number;
    readonly seed?: number;
    readonly level?: number;
  } = {},
): ImputedAccuracy {
  const caller = "imputeVerification";
  options = formerNames(caller, options, "imputations");
  const { replicates = 100, seed = 1, level = 0.95 } = options;
  requireLevel(caller, level);
  requireWhole(caller, "replicates", replicates, 2);
  const strata = verificationStrata(caller, counts);
  const n = strata.reduce((sum, s) => sum + s.positives + s.negatives, 0);
  const made = { kind: "imputed-accuracy" as const, n, replicates, seed, level };
  const blind = strata.some(
    (s) =>
      (s.unverified.testPositive > 0 && s.examinedPositives === 0) ||
      (s.unverified.testNegative > 0 && s.examinedNegatives === 0),
  );
  if (blind) {
    const reason = undefinedBecause(
      "a group without a single exam cannot be imputed: the missed are unknown",
    );
    return { ...made, sensitivity: reason, specificity: reason };
  }
  const { uniform } = createRandom(seed);
  const binomial = randomBinomial.source(uniform);
  const beta = randomBeta.source(uniform);
  const completions: { sensitivity: Part; specificity: Part }[] = [];
  for (let i = 0; i < replicates; i++) {
    const total = { tp: 0, fp: 0, fn: 0, tn: 0 };
    for (const { verified, unverified } of strata) {
      const { truePositive, falsePositive, falseNegative, trueNegative } = verified;
      const draw = (cases: number, others: number, size: number) =>
        size === 0 ? 0 : binomial(size, beta(cases + 0.5, others + 0.5)())();
      const referred = draw(truePositive, falsePositive, unverified.testPositive);
      const passed = draw(falseNegative, trueNegative, unverified.testNegative);
      total.tp += truePositive + referred;
      total.fp += falsePositive + unverified.testPositive - referred;
      total.fn += falseNegative + passed;
      total.tn += trueNegative + unverified.testNegative - passed;
    }
    completions.push({
      sensitivity: [total.tp, total.fn],
      specificity: [total.tn, total.fp],
    });
  }
  return {
    ...made,
    sensitivity: pooled(
      completions.map((c) => c.sensitivity),
      level,
    ),
    specificity: pooled(
      completions.map((c) => c.specificity),
      level,
    ),
  };
}

type Part = readonly [number, number];

/** Rubin's rules on the logit scale. */
function pooled(parts: readonly Part[], level: number): ImputedRate | Undefined {
  if (parts.some(([a, b]) => a + b === 0)) {
    return undefinedBecause("a completion has no child on that side of the condition");
  }
  const m = parts.length;
  const logits = parts.map((part) => {
    const add = part.includes(0) ? 0.5 : 0;
    const [a, b] = [part[0] + add, part[1] + add];
    return { logit: Math.log(a / b), variance: 1 / a + 1 / b };
  });
  const all = byRubin(logits, level);
  // Leave-one-out over completions, each of which is independent of the others.
  const left = m > 2 ? logits.map((_, k) => byRubin(logits.toSpliced(k, 1), level)) : [];
  const error = (end: "value" | "low" | "high") => {
    const mean = left.reduce((sum, one) => sum + one[end], 0) / m;
    return Math.sqrt(((m - 1) / m) * left.reduce((sum, one) => sum + (one[end] - mean) ** 2, 0));
  };
  return {
    kind: "estimate",
    ...all,
    level,
    method: "multiple-imputation",
    monteCarloError:
      m > 2 ? { value: error("value"), low: error("low"), high: error("high") } : null,
  };
}

function byRubin(
  logits: readonly { readonly logit: number; readonly variance: number }[],
  level: number,
): { readonly value: number; readonly low: number; readonly high: number } {
  const m = logits.length;
  const mean = logits.reduce((sum, { logit }) => sum + logit, 0) / m;
  const within = logits.reduce((sum, { variance }) => sum + variance, 0) / m;
  const between = logits.reduce((sum, { logit }) => sum + (logit - mean) ** 2, 0) / (m - 1);
  const added = (1 + 1 / m) * between;
  const se = Math.sqrt(within + added);
  const df = added === 0 ? 1e9 : (m - 1) * (1 + within / added) ** 2;
  const spread = tQuantile(1 - (1 - level) / 2, df) * se;
  const at = (l: number) => 1 / (1 + Math.exp(-l));
  return { value: at(mean), low: at(mean - spread), high: at(mean + spread) };
}
