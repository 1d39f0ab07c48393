// Written by tests/coverage/scenario-truths.mjs; not by hand.
import type { ScenarioTruth } from "../truthOfTally.js";

export const clinic: ScenarioTruth = {
  kind: "scenario-truth",
  scenario: "clinic",
  fingerprint: "28a45d044caf3df9",
  n: 10000000,
  seed: 20261125,
  undecidable: "refer",
  referralRate: { value: 0.6525805, monteCarloError: 0.000150571973162 },
  byFinding: {
    counts: {
      refer: { with: 5288721, without: 938745 },
      pass: { with: 361140, without: 3113055 },
      undecidable: { with: 133791, without: 164548 },
    },
    accuracy: {
      prevalence: { value: 0.5783652, monteCarloError: 0.000156159820514 },
      sensitivity: { value: 0.937558483809, monteCarloError: 0.000100608535464 },
      specificity: { value: 0.738329710925, monteCarloError: 0.000214059326844 },
      positivePredictiveValue: { value: 0.830933808166, monteCarloError: 0.000146721768727 },
      negativePredictiveValue: { value: 0.896050739812, monteCarloError: 0.000163738160597 },
    },
  },
  byLatent: {
    counts: {
      refer: { with: 5178701, without: 1048765 },
      pass: { with: 259345, without: 3214850 },
      undecidable: { with: 129988, without: 168351 },
    },
    accuracy: {
      prevalence: { value: 0.5568034, monteCarloError: 0.000157090220494 },
      sensitivity: { value: 0.953422518612, monteCarloError: 0.0000893058202713 },
      specificity: { value: 0.725377857141, monteCarloError: 0.00021200773824 },
      positivePredictiveValue: { value: 0.813491822082, monteCarloError: 0.000152478457241 },
      negativePredictiveValue: { value: 0.925351052546, monteCarloError: 0.000141006135584 },
    },
  },
  examined: {
    referred: {
      refer: { with: 5288721, without: 938745 },
      pass: { with: 0, without: 0 },
      undecidable: { with: 133791, without: 164548 },
    },
    sampled: {
      refer: { with: 0, without: 0 },
      pass: { with: 361140, without: 3113055 },
      undecidable: { with: 0, without: 0 },
    },
    selfPresented: {
      refer: { with: 0, without: 0 },
      pass: { with: 0, without: 0 },
      undecidable: { with: 0, without: 0 },
    },
  },
  conditionByFindingOnly: 311586,
  conditionByLatentOnly: 95968,
  difference: {
    M: {
      n: 9454672,
      bias: { value: -0.174352412754, monteCarloError: 0.000389654447521 },
      sd: { value: 1.19812704401, monteCarloError: 0.000966569815196 },
    },
    J0: {
      n: 9454672,
      bias: { value: 0.0000566572574491, monteCarloError: 0.0000738477883268 },
      sd: { value: 0.227070505411, monteCarloError: 0.0000539357946712 },
    },
    J45: {
      n: 9454672,
      bias: { value: 0.0000236149744526, monteCarloError: 0.0000555301823033 },
      sd: { value: 0.170746705445, monteCarloError: 0.0000422621780309 },
    },
  },
  differenceFromLatent: {
    n: 9454672,
    bias: { value: -0.17443024989, monteCarloError: 0.00038480780071 },
    sd: { value: 1.18322435611, monteCarloError: 0.000977061506135 },
  },
  eyeCorrelation: { value: 0.546710012494, monteCarloError: 0.000234171180428 },
  areaMyopia: { value: 0.936871643517, monteCarloError: 0.000182691695404 },
  areaHyperopia: { value: 0.78512226703, monteCarloError: 0.00103707878859 },
};
