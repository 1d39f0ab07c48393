import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import * as api from "../../src/face.js";
import { streamRules } from "../../src/rulespace/index.js";

// Every call that had a key under another name: the call as it is now, and the same as it was
// written before. Both give the same, and both keys at once are refused.

const test = [1, 2, 3, 4, 5, 6, 7, 8];
const condition = [0, 0, 1, 0, 1, 1, 0, 1];
const yes = [0, 1, 1, 0, 1, 1, 0, 1];
const undecided = [...yes.slice(0, 7), "undecidable"];
const reference = [1, 2, 2, 4, 4, 6, 8, 8];
const examination = {
  examined: [1, 1, 1, 1, 1, 1, 0, 1],
  strata: ["a", "a", "a", "a", "b", "b", "b", "b"],
};
const gap = {
  measures: { sphere: test.with(7, Number.NaN) },
  condition,
  limits: { sphere: [3, 5] },
};
const full = { ...gap, measures: { sphere: test } };
const space = () => api.ruleSpace(full);
const table = { truePositive: 40, falsePositive: 30, falseNegative: 15, trueNegative: 415 };
const verified = { verified: table, unverified: { testPositive: 10, testNegative: 100 } };
const paired = { both: 1, firstOnly: 1, secondOnly: 7, neither: 12 };
const run = { positiveWhen: "high", seed: 1, replicates: 20 } as const;
const search = { seed: 1, folds: 2, repeats: 1, replicates: 20 };
const vectors = test.map((M, at) => ({ M, J0: at % 3, J45: (at * at) % 5 }));
const counts = {
  kind: "table",
  title: "",
  columns: [{ label: "n", format: "count" }],
  rows: [{ cells: [4] }, { cells: [60] }, { cells: [30] }],
  notes: [],
} as const;
const bands = [{ fromMonths: 0, toMonths: 60 }];
const fronts = (against: "specificity" | "referralRate") =>
  api.mergeFronts(
    api.ruleFrontsByAgeBand({ ...full, ageMonths: test.map(() => 40) }, { bands, against }),
  );
const protocol = JSON.parse(readFileSync("data/children/protocol.json", "utf8"));

interface Call {
  /** Takes the argument that holds the key. */
  // biome-ignore lint/suspicious/noExplicitAny: keys of before are in no type
  readonly call: (given: any) => unknown;
  readonly former: object;
  readonly now: object;
  readonly rest?: object;
}

const calls: { readonly [name: string]: Call } = {
  proportionInterval: {
    call: (given) => api.proportionInterval({ successes: 81, trials: 263 }, given),
    former: { method: "wald" },
    now: { interval: "wald" },
  },
  accuracyFromCounts: {
    call: (given) => api.accuracyFromCounts(table, given),
    former: { method: "jeffreys", ratioMethod: "log" },
    now: { interval: "jeffreys", ratioInterval: "log" },
  },
  clusteredAccuracy: {
    call: (given) =>
      api.clusteredAccuracy({ test: yes, reference: condition, subjects: test }, given),
    former: { method: "jeffreys", ratioMethod: "log" },
    now: { interval: "jeffreys", ratioInterval: "log" },
  },
  unreadableVariants: {
    call: (given) => api.unreadableVariants({ test: undecided, reference: condition }, given),
    former: { method: "jeffreys" },
    now: { interval: "jeffreys" },
  },
  inconclusiveVariants: {
    call: (given) => api.inconclusiveVariants({ test: yes, reference: condition }, given),
    former: { method: "jeffreys" },
    now: { interval: "jeffreys" },
  },
  comparePairedProportions: {
    call: (given) => api.comparePairedProportions(paired, given),
    former: { method: "tango" },
    now: { interval: "tango" },
  },
  "comparePairedAccuracy, options": {
    call: (given) =>
      api.comparePairedAccuracy({ first: yes, second: condition, reference: condition }, given),
    former: { method: "tango" },
    now: { interval: "tango" },
  },
  "comparePairedAccuracy, data": {
    call: (given) => api.comparePairedAccuracy(given),
    former: { testA: yes, testB: condition },
    now: { first: yes, second: condition },
    rest: { reference: condition },
  },
  predictiveValuesAt: {
    call: (given) => api.predictiveValuesAt({ table, prevalence: 0.1 }, given),
    former: { method: "score" },
    now: { interval: "score" },
  },
  accuracyByGroup: {
    call: (given) => api.accuracyByGroup(given),
    former: { groups: examination.strata },
    now: { by: examination.strata },
    rest: { test: yes, reference: condition },
  },
  netBenefit: {
    call: (given) => api.netBenefit({ table }, given),
    former: { thresholds: [0.2] },
    now: { thresholdProbabilities: [0.2] },
  },
  correctVerification: {
    call: (given) => api.correctVerification(verified, given),
    former: { draws: 50 },
    now: { replicates: 50 },
    rest: { method: "jeffreys", seed: 1 },
  },
  imputeVerification: {
    call: (given) => api.imputeVerification(verified, given),
    former: { imputations: 5 },
    now: { replicates: 5 },
    rest: { seed: 1 },
  },
  reconstructTwoByTwo: {
    call: (given) => api.reconstructTwoByTwo(given),
    former: { intervalMethod: "wilson" },
    now: { interval: "wilson" },
    rest: {
      n: 185,
      printed: { sensitivity: "100", specificity: "87.04" },
      intervals: { sensitivity: { low: "85.69", high: "100" } },
    },
  },
  limitsOfAgreement: {
    call: (given) => api.limitsOfAgreement({ test, reference }, given),
    former: { limits: "pair" },
    now: { intervalFor: "pair" },
  },
  ratioLimits: {
    call: (given) => api.ratioLimits({ test, reference }, given),
    former: { limits: "pair" },
    now: { intervalFor: "pair" },
  },
  "biasBy, label": {
    call: (given) => api.biasBy({ test, reference, by: yes }, given),
    former: { factor: "age" },
    now: { label: "age" },
  },
  "biasBy, limits": {
    call: (given) => api.biasBy({ test, reference, by: yes }, given),
    former: { limits: "pair" },
    now: { intervalFor: "pair" },
    rest: { label: "age" },
  },
  weightedLimits: {
    call: (given) => api.weightedLimits(given, { seed: 1, replicates: 20 }),
    former: { verification: examination },
    now: { examination },
    rest: { test, reference },
  },
  vectorAgreement: {
    call: (given) =>
      api.vectorAgreement(
        { test: vectors, reference: vectors.map(() => ({ M: 1, J0: 0, J45: 0 })) },
        given,
      ),
    former: { toleranceReplicates: 20 },
    now: { replicates: 20 },
    rest: { seed: 1 },
  },
  suppressSmallCells: {
    call: (given) => api.suppressSmallCells(counts, given),
    former: { threshold: 40 },
    now: { fewerThan: 40 },
  },
  compareAreas: {
    call: (given) => api.compareAreas(given, { positiveWhen: "high" }),
    former: { valuesA: test, valuesB: reference.toReversed() },
    now: { first: test, second: reference.toReversed() },
    rest: { condition },
  },
  compareIndependentAreas: {
    call: (given) => api.compareIndependentAreas(given, { positiveWhen: "high" }),
    former: { groupA: { values: test, condition }, groupB: { values: yes, condition } },
    now: { first: { values: test, condition }, second: { values: yes, condition } },
  },
  areaUnderCurve: {
    call: (given) => api.areaUnderCurve(given, { ...run, interval: "bootstrap" }),
    former: { verification: examination },
    now: { examination },
    rest: { values: test, condition },
  },
  chooseThreshold: {
    call: (given) =>
      api.chooseThreshold(given, { ...run, criterion: "youden", folds: 2, repeats: 1 }),
    former: { verification: examination },
    now: { examination },
    rest: { values: test, condition },
  },
  sensitivityAtRates: {
    call: (given) => api.sensitivityAtRates(given, { ...run, falsePositiveRates: [0.25] }),
    former: { verification: examination },
    now: { examination },
    rest: { values: test, condition },
  },
  validateThreshold: {
    call: (given) => api.validateThreshold(given, { ...run, cutOff: 6 }),
    former: { verification: examination },
    now: { examination },
    rest: { values: test, condition },
  },
  ruleSpace: {
    call: (given) => api.ruleSpace(gap, given),
    former: { unreadable: "refer" },
    now: { undecidable: "refer" },
  },
  restrictToExamined: {
    call: (given) =>
      api.restrictToExamined({ ...gap, examined: test.map(() => 1) }, { sphere: 3 }, given),
    former: { unreadable: "refer" },
    now: { undecidable: "refer" },
  },
  ruleFrontsByAgeBand: {
    call: (given) => api.ruleFrontsByAgeBand({ ...gap, ageMonths: test.map(() => 40) }, given),
    former: { unreadable: "refer" },
    now: { undecidable: "refer" },
    rest: { bands },
  },
  sensitivityByCondition: {
    call: (given) =>
      api.sensitivityByCondition(
        { measures: gap.measures, conditions: { condition } },
        { sphere: 3 },
        given,
      ),
    former: { unreadable: "refer" },
    now: { undecidable: "refer" },
  },
  bestRule: {
    call: (given) => api.bestRule(space(), given),
    former: { minSpecificity: 0.5, minSensitivity: 0.1, maxReferralRate: 0.9 },
    now: { specificityAtLeast: 0.5, sensitivityAtLeast: 0.1, referralRateAtMost: 0.9 },
  },
  "bestOfBands, specificity": {
    call: (given) => api.bestOfBands(fronts("specificity"), given),
    former: { minSpecificity: 0.5 },
    now: { specificityAtLeast: 0.5 },
  },
  "bestOfBands, referral rate": {
    call: (given) => api.bestOfBands(fronts("referralRate"), given),
    former: { maxReferralRate: 0.9 },
    now: { referralRateAtMost: 0.9 },
  },
  "searchRules, options": {
    call: (given) => api.searchRules(gap, given),
    former: { unreadable: "refer" },
    now: { undecidable: "refer" },
    rest: search,
  },
  "searchRules, data": {
    call: (given) => api.searchRules(given, search),
    former: { verification: examination },
    now: { examination },
    rest: full,
  },
  "searchRules, constraints": {
    call: (constraints) => api.searchRules(full, { ...search, constraints }),
    former: { minSpecificity: 0.4 },
    now: { specificityAtLeast: 0.4 },
  },
  "streamRules, options": {
    call: (given) => streamRules(gap, given),
    former: { unreadable: "refer" },
    now: { undecidable: "refer" },
  },
  "streamRules, data": {
    call: (given) => streamRules(given),
    former: { verification: examination },
    now: { examination },
    rest: full,
  },
  "streamRules, constraints": {
    call: (constraints) => streamRules(full, { constraints }),
    former: { minSpecificity: 0.4 },
    now: { specificityAtLeast: 0.4 },
  },
  defineProtocol: {
    call: (given) => api.defineProtocol(given),
    former: { unreadable: "exclude" },
    now: { undecidable: "exclude" },
    rest: Object.fromEntries(Object.entries(protocol).filter(([key]) => key !== "undecidable")),
  },
};

describe("keys of before", () => {
  it.each(Object.entries(calls))("%s", async (_, { call, former, now, rest = {} }) => {
    const run = async (given: object) => call(given);
    const found = await run({ ...rest, ...now });
    expect(await run({ ...rest, ...former })).toEqual(found);
    // the key matters, so that one that was ignored would show
    await expect(run(rest).catch(() => "refused")).resolves.not.toEqual(found);
    for (const [key, value] of Object.entries(former)) {
      const both = { ...rest, ...now, [key]: value };
      await expect(run(both)).rejects.toThrow(
        new RegExp(`once, got it and ${key}, its former name`),
      );
    }
  });
});
