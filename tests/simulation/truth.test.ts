import { expect, test } from "vitest";
import {
  type MonteCarlo,
  type ScenarioName,
  scenarioTruth,
  simulateCohort,
  simulateTruth,
  simulationScenarios,
} from "../../src/simulation/index.js";
import { resolveParameters } from "../../src/simulation/resolveParameters.js";
import { fingerprint } from "../../src/simulation/simulateTruth.js";
import { correlation, describe, minus, readingM } from "./measure.js";

const names = Object.keys(simulationScenarios) as ScenarioName[];

test.each(names)("the committed truth of %s was made with the parameters that hold", (name) => {
  const truth = scenarioTruth(name);
  expect(truth.n).toBe(10_000_000);
  expect(truth.fingerprint).toBe(fingerprint(resolveParameters(name)));
});

test("a scenario that is not named has no truth, and no file is looked for", () => {
  for (const name of ["constructor", "../truths/clinic"]) {
    expect(() => scenarioTruth(name as ScenarioName)).toThrow(
      `scenarioTruth requires a named scenario, got "${name}"`,
    );
  }
});

test.each(names)("a short run of %s agrees with its committed truth", async (scenario) => {
  const short = await simulateTruth({ children: 20_000, seed: 4, scenario });
  const long = scenarioTruth(scenario);
  // Within 4.5 standard errors of the short run: about 1 in 1000 of such tests would fail by chance,
  // and the seed is fixed.
  const agree = (one: MonteCarlo, other: MonteCarlo, factor = 1) => {
    const error = Math.hypot(one.monteCarloError * factor, other.monteCarloError);
    expect(Math.abs(one.value - other.value)).toBeLessThan(4.5 * error);
  };
  for (const layer of ["byFinding", "byLatent"] as const) {
    for (const key of [
      "prevalence",
      "sensitivity",
      "specificity",
      "positivePredictiveValue",
      "negativePredictiveValue",
    ] as const) {
      agree(short[layer].accuracy[key], long[layer].accuracy[key]);
    }
  }
  for (const component of ["M", "J0", "J45"] as const) {
    agree(short.difference[component].bias, long.difference[component].bias);
    agree(short.difference[component].sd, long.difference[component].sd);
  }
  agree(short.areaMyopia, long.areaMyopia);
  agree(short.areaHyperopia, long.areaHyperopia);
  // The error of a correlation is stated as under normality; tails this heavy need several times it.
  agree(short.eyeCorrelation, long.eyeCorrelation, 4);
});

test("counting gives what the cohort of the same children gives", async () => {
  const options = { children: 6000, seed: 8, scenario: "complete" } as const;
  const counted = await simulateTruth(options);
  const cohort = await simulateCohort(options);
  const { truth, n } = cohort;
  let truePositive = 0;
  let cases = 0;
  for (let row = 0; row < n; row++) {
    cases += truth.conditionByFinding[row];
    truePositive += truth.conditionByFinding[row] * truth.referred[row];
  }
  expect(counted.byFinding.accuracy.sensitivity.value).toBe(truePositive / cases);
  const right = minus(readingM(cohort, "handheld", "right"), truth.finding.right.M);
  const left = minus(readingM(cohort, "handheld", "left"), truth.finding.left.M);
  const { n: measured, mean, sd } = describe(right);
  expect(counted.difference.M.n).toBe(measured);
  expect(counted.difference.M.bias.value).toBeCloseTo(mean, 10);
  expect(counted.difference.M.sd.value).toBeCloseTo(sd, 10);
  expect(counted.eyeCorrelation.value).toBeCloseTo(correlation(right, left), 10);

  // The areas by definition: pairs of a case and another, ties by half.
  const readings = readingM(cohort, "handheld", "right");
  const area = (isCase: (M: number) => boolean, sign: 1 | -1) => {
    const with_: number[] = [];
    const without: number[] = [];
    readings.forEach((value, row) => {
      if (Number.isNaN(value)) return;
      (isCase(truth.finding.right.M[row]) ? with_ : without).push(sign * value);
    });
    let sum = 0;
    for (const one of with_)
      for (const other of without) sum += one > other ? 1 : one === other ? 0.5 : 0;
    return sum / (with_.length * without.length);
  };
  expect(counted.areaMyopia.value).toBeCloseTo(
    area((M) => M <= -0.5, -1),
    10,
  );
  expect(counted.areaHyperopia.value).toBeCloseTo(
    area((M) => M >= 3, 1),
    10,
  );
});

test("the Monte Carlo errors are the spread of short runs", async () => {
  const runs = await Promise.all(
    Array.from({ length: 60 }, (_, seed) =>
      simulateTruth({ children: 1500, seed, scenario: "clinic" }),
    ),
  );
  const check = (pick: (run: (typeof runs)[number]) => MonteCarlo) => {
    const spread = describe(Float64Array.from(runs, (run) => pick(run).value)).sd;
    const stated = describe(Float64Array.from(runs, (run) => pick(run).monteCarloError)).mean;
    // An SD of 60 runs has itself a relative error of 9 %; three of those.
    expect(spread / stated).toBeGreaterThan(0.73);
    expect(spread / stated).toBeLessThan(1.27);
  };
  check((run) => run.byFinding.accuracy.sensitivity);
  check((run) => run.difference.M.bias);
  check((run) => run.difference.M.sd);
  check((run) => run.areaMyopia);
  check((run) => run.areaHyperopia);
});

test("truths say where each scenario goes wrong", () => {
  const rate = ({ with: one, without: other }: { with: number; without: number }) =>
    one / (one + other);
  const random = scenarioTruth("random-passes").examined;
  const self = scenarioTruth("self-presenting-passes").examined;
  // Passes examined at random carry the disease of all passes; those who come by themselves more
  // (odds of 5 by the latent condition, which half of the passes with the finding have).
  const passes = rate(scenarioTruth("random-passes").byFinding.counts.pass);
  expect(rate(random.sampled.pass)).toBeCloseTo(passes, 3);
  expect(rate(self.selfPresented.pass)).toBeGreaterThan(2 * passes);
  // Exam not at random: more disease among the examined referred than among all referred.
  const biased = scenarioTruth("disease-follow-up");
  expect(rate(biased.examined.referred.refer)).toBeGreaterThan(
    rate(biased.byFinding.counts.refer) + 0.02,
  );
  expect(rate(random.referred.refer)).toBeCloseTo(
    rate(scenarioTruth("random-passes").byFinding.counts.refer),
    2,
  );
  // The two eyes: errors that share something, and errors that share nothing.
  expect(scenarioTruth("complete").eyeCorrelation.value).toBeGreaterThan(0.4);
  expect(Math.abs(scenarioTruth("independent-eyes").eyeCorrelation.value)).toBeLessThan(0.002);
});
