// What plans promise, tried out: studies of the planned size, analysed by the package's own functions.
import { correctVerification } from "../../../src/accuracy/index.js";
import { limitsOfAgreement, repeatability } from "../../../src/agreement/index.js";
import { proportionInterval } from "../../../src/inference/index.js";
import { createRandom, type Random } from "../../../src/inference/random.js";
import { drawBinomial } from "../../../src/inference/resampling/binomial.js";
import {
  planAccuracyStudy,
  planAgreementStudy,
  planAreaStudy,
} from "../../../src/planning/index.js";
import type { Estimate, Undefined } from "../../../src/results/index.js";
import { areaUnderCurve, compareAreas } from "../../../src/thresholds/index.js";

export interface Promised {
  readonly name: string;
  readonly n: number;
  /** What the plan says, and what was found; the kind of number is in `what`. */
  readonly what: "power" | "mean half-width" | "coverage" | "chance of enough";
  readonly said: number;
  readonly found: number;
  /** Monte Carlo standard error. */
  readonly error: number;
  readonly replicates: number;
}

type Outcome = readonly number[];
interface Trial {
  readonly name: string;
  readonly n: number;
  readonly parts: readonly (readonly [Promised["what"], number])[];
  readonly once: (random: Random) => Outcome;
  /** A share of the replicates that is enough for a slow analysis. */
  readonly slow?: number;
}

/** Every plan tried; each replicate has its own stream. */
export function promises(replicates: number, seed: number): Promised[] {
  return trials().flatMap(({ name, n, parts, once, slow = 1 }, which) => {
    const runs = Math.round(replicates * slow);
    const random = createRandom(seed + which);
    const sums = parts.map(() => [0, 0]);
    for (let run = 0; run < runs; run++) {
      random.restart(seed + which, run);
      once(random).forEach((value, at) => {
        sums[at]![0]! += value;
        sums[at]![1]! += value * value;
      });
    }
    return parts.map(([what, said], at) => {
      const found = sums[at]![0]! / runs;
      const error = Math.sqrt(Math.max(0, sums[at]![1]! / runs - found ** 2) / runs);
      return { name, n, what, said, found, error, replicates: runs };
    });
  });
}

const half = (estimate: Estimate | Undefined): number =>
  estimate.kind === "estimate" ? (estimate.high - estimate.low) / 2 : Number.NaN;
const covers = (estimate: Estimate | Undefined, truth: number): number =>
  estimate.kind === "estimate" && estimate.low <= truth && truth <= estimate.high ? 1 : 0;

function trials(): Trial[] {
  const expected = { sensitivity: 0.9, specificity: 0.85, prevalence: 0.1 };
  const list: Trial[] = [];

  for (const interval of ["wilson", "clopper-pearson"] as const) {
    const lost = 0.1;
    const goals = planAccuracyStudy({
      expected,
      aim: { minimum: { sensitivity: 0.8, specificity: 0.8 }, power: 0.8 },
      interval,
      lost,
    });
    const cohort = (random: Random, n: number) => {
      const usable = drawBinomial(random, n, 1 - lost);
      const cases = drawBinomial(random, usable, expected.prevalence);
      return {
        cases,
        others: usable - cases,
        found: drawBinomial(random, cases, expected.sensitivity),
        passed: drawBinomial(random, usable - cases, expected.specificity),
      };
    };
    list.push({
      name: `goals, ${interval}`,
      n: goals.n as number,
      parts: [["power", goals.planned!.power!]],
      once: (random) => {
        const { cases, others, found, passed } = cohort(random, goals.n as number);
        const low = (successes: number, trials: number) =>
          proportionInterval({ successes, trials }, { interval: interval }).low ?? 0;
        return [Number(low(found, cases) > 0.8 && low(passed, others) > 0.8)];
      },
    });
    const precise = planAccuracyStudy({
      expected,
      aim: { halfWidth: { sensitivity: 0.08 } },
      interval,
      lost,
      assurance: 0.9,
    });
    const rows = precise.needs[0]!.rowCount as number;
    list.push({
      name: `half-width, ${interval}`,
      n: precise.n as number,
      parts: [
        ["chance of enough", precise.chanceOfEnough!],
        ["mean half-width", 0.08],
        ["coverage", 0.95],
      ],
      once: (random) => {
        const enough = cohort(random, precise.n as number).cases >= rows;
        const successes = drawBinomial(random, rows, expected.sensitivity);
        const estimate = proportionInterval({ successes, trials: rows }, { interval: interval });
        return [Number(enough), half(estimate), covers(estimate, expected.sensitivity)];
      },
    });
  }

  const shareOfPasses = 0.25;
  const verified = planAccuracyStudy({
    expected,
    aim: { halfWidth: { sensitivity: 0.08 } },
    verification: { shareOfPasses },
  });
  list.push({
    name: "partial verification",
    n: verified.n as number,
    parts: [
      ["mean half-width", 0.08],
      ["coverage", 0.95],
    ],
    once: (random) => {
      const cases = drawBinomial(random, verified.n as number, expected.prevalence);
      const truePositive = drawBinomial(random, cases, expected.sensitivity);
      const others = (verified.n as number) - cases;
      const falsePositive = drawBinomial(random, others, 1 - expected.specificity);
      const falseNegative = drawBinomial(random, cases - truePositive, shareOfPasses);
      const trueNegative = drawBinomial(random, others - falsePositive, shareOfPasses);
      const passes = cases - truePositive + others - falsePositive;
      // a plan is made with the delta method's interval on the logit scale
      const { sensitivity } = correctVerification(
        {
          verified: { truePositive, falsePositive, falseNegative, trueNegative },
          unverified: { testPositive: 0, testNegative: passes - falseNegative - trueNegative },
        },
        { method: "logit" },
      );
      return [half(sensitivity), covers(sensitivity, expected.sensitivity)];
    },
  });

  for (const interval of ["exact", "approximate"] as const) {
    const [bias, sd, within] = [-0.1, 0.5, 1.5];
    const plan = planAgreementStudy({
      expected: { bias, sd },
      aim: { within, power: 0.8 },
      interval,
    });
    const n = plan.n as number;
    list.push({
      name: `limits within, ${interval}`,
      n,
      parts: [["power", plan.planned!.power!]],
      once: (random) => {
        const test = Float64Array.from({ length: n }, () => bias + sd * random.normal());
        const reference = new Float64Array(n);
        const { lower, upper } = limitsOfAgreement(
          { test, reference },
          { interval, normality: "skip" },
        );
        return [Number(lower.low > -within && upper.high < within)];
      },
    });
  }
  const limit = planAgreementStudy({ expected: { sd: 0.5 }, aim: { halfWidth: 0.1 } });
  list.push({
    name: "half-width of a limit, exact",
    n: limit.n as number,
    parts: [
      ["mean half-width", 0.1],
      ["coverage", 0.95],
    ],
    once: (random) => {
      const n = limit.n as number;
      const test = Float64Array.from({ length: n }, () => 0.5 * random.normal());
      const { upper } = limitsOfAgreement(
        { test, reference: new Float64Array(n) },
        { normality: "skip" },
      );
      return [half(upper as Estimate), covers(upper as Estimate, 0.5 * 1.959963984540054)];
    },
  });
  const repeats = planAgreementStudy({
    expected: { sd: 0.4 },
    aim: { repeats: 3, relativeHalfWidth: 0.1 },
  });
  list.push({
    name: "repeats",
    n: repeats.n as number,
    slow: 0.25,
    parts: [
      ["mean half-width", 0.04],
      ["coverage", 0.95],
    ],
    once: (random) => {
      const length = 3 * (repeats.n as number);
      const values = Float64Array.from({ length }, () => 0.4 * random.normal());
      const units = Array.from(values, (_, at) => Math.floor(at / 3));
      const { withinSd } = repeatability({ values, units });
      return [half(withinSd), covers(withinSd, 0.4)];
    },
  });

  const prevalence = 0.3;
  const shift = Math.SQRT2 * 1.0364333894937898; // area .85 of two normal distributions
  const above = planAreaStudy({
    expected: { area: 0.85, prevalence },
    aim: { above: 0.75, power: 0.8 },
  });
  const wide = planAreaStudy({ expected: { area: 0.85, prevalence }, aim: { halfWidth: 0.06 } });
  const area = (random: Random, n: number) => {
    const condition = Array.from({ length: n }, (_, at) => at < n * prevalence);
    const values = condition.map((is) => random.normal() + (is ? shift : 0));
    return areaUnderCurve({ values, condition }, { positiveWhen: "high" }) as Estimate;
  };
  list.push({
    name: "area above",
    n: above.n as number,
    slow: 0.25,
    parts: [["power", above.planned!.power!]],
    once: (random) => [Number(area(random, above.n as number).low > 0.75)],
  });
  list.push({
    name: "half-width of an area",
    n: wide.n as number,
    slow: 0.25,
    parts: [
      ["mean half-width", 0.06],
      ["coverage", 0.95],
    ],
    once: (random) => {
      const estimate = area(random, wide.n as number);
      return [half(estimate), covers(estimate, 0.85)];
    },
  });

  // Readings of two tests correlate by .6 within each class; the areas then by about .55, which is
  // what the plan is given (measured .545 over 4,000 studies of 400).
  const second = { area: 0.78, correlation: 0.55 };
  const other = Math.SQRT2 * 0.7721932141886847;
  const two = planAreaStudy({
    expected: { area: 0.85, prevalence, second },
    aim: { differencePower: 0.8 },
  });
  list.push({
    name: "two areas",
    n: two.n as number,
    slow: 0.25,
    parts: [["power", two.planned!.power!]],
    once: (random) => {
      const n = two.n as number;
      const condition = Array.from({ length: n }, (_, at) => at < n * prevalence);
      const shared = condition.map(() => Math.sqrt(0.6) * random.normal());
      const read = (move: number) =>
        condition.map((is, at) => shared[at]! + Math.sqrt(0.4) * random.normal() + (is ? move : 0));
      const { difference } = compareAreas(
        { first: read(shift), second: read(other), condition },
        { positiveWhen: "high" },
      );
      return [Number(difference.kind === "estimate" && difference.low > 0)];
    },
  });
  return list;
}
