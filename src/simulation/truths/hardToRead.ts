// Written by tests/coverage/scenario-truths.mjs; not by hand.
import type { ScenarioTruth } from "../truthOfTally.js";

export const hardToRead: ScenarioTruth = {
  kind: "scenario-truth",
  scenario: "hard-to-read",
  fingerprint: "dc2475b30aab6a56",
  n: 10000000,
  seed: 20261125,
  undecidable: "refer",
  referralRate: { value: 0.5756009, monteCarloError: 0.000156296034473 },
  byFinding: {
    counts: {
      refer: { with: 153513, without: 830625 },
      pass: { with: 52683, without: 4191308 },
      undecidable: { with: 206535, without: 4565336 },
    },
    accuracy: {
      prevalence: { value: 0.0412731, monteCarloError: 0.0000629043966797 },
      sensitivity: { value: 0.872355117498, monteCarloError: 0.000519415392685 },
      specificity: { value: 0.437174340263, monteCarloError: 0.000160201589104 },
      positivePredictiveValue: { value: 0.062551674259, monteCarloError: 0.000100932819685 },
      negativePredictiveValue: { value: 0.987586448699, monteCarloError: 0.0000537462732267 },
    },
  },
  byLatent: {
    counts: {
      refer: { with: 133592, without: 850546 },
      pass: { with: 33871, without: 4210120 },
      undecidable: { with: 185365, without: 4586506 },
    },
    accuracy: {
      prevalence: { value: 0.0352828, monteCarloError: 0.0000583420294678 },
      sensitivity: { value: 0.90400138311, monteCarloError: 0.000495947281428 },
      specificity: { value: 0.436409758217, monteCarloError: 0.00015967206727 },
      positivePredictiveValue: { value: 0.0554128737464, monteCarloError: 0.0000953598624049 },
      negativePredictiveValue: { value: 0.992019068843, monteCarloError: 0.0000431916271407 },
    },
  },
  examined: {
    referred: {
      refer: { with: 153513, without: 830625 },
      pass: { with: 0, without: 0 },
      undecidable: { with: 206535, without: 4565336 },
    },
    sampled: {
      refer: { with: 0, without: 0 },
      pass: { with: 52683, without: 4191308 },
      undecidable: { with: 0, without: 0 },
    },
    selfPresented: {
      refer: { with: 0, without: 0 },
      pass: { with: 0, without: 0 },
      undecidable: { with: 0, without: 0 },
    },
  },
  conditionByFindingOnly: 77446,
  conditionByLatentOnly: 17543,
  difference: {
    M: {
      n: 6491235,
      bias: { value: -0.62203118898, monteCarloError: 0.000390579632692 },
      sd: { value: 0.995114967912, monteCarloError: 0.000929981536316 },
    },
    J0: {
      n: 6491235,
      bias: { value: 0.0000532672761975, monteCarloError: 0.0000866474980564 },
      sd: { value: 0.220759648048, monteCarloError: 0.000062962489573 },
    },
    J45: {
      n: 6491235,
      bias: { value: -0.0000320532879428, monteCarloError: 0.0000648732308656 },
      sd: { value: 0.165283383074, monteCarloError: 0.000048774122409 },
    },
  },
  differenceFromLatent: {
    n: 6491235,
    bias: { value: -0.672822794015, monteCarloError: 0.000379087929022 },
    sd: { value: 0.9658365177, monteCarloError: 0.000961325528922 },
  },
  eyeCorrelation: { value: 0.554582277868, monteCarloError: 0.000328575143751 },
  areaMyopia: { value: 0.916045760925, monteCarloError: 0.000185773824248 },
  areaHyperopia: { value: 0.708758863852, monteCarloError: 0.000707164056931 },
};
