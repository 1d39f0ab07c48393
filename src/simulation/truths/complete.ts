// Written by tests/coverage/scenario-truths.mjs; not by hand.
import type { ScenarioTruth } from "../truthOfTally.js";

export const complete: ScenarioTruth = {
  kind: "scenario-truth",
  scenario: "complete",
  fingerprint: "f9d6c0fa3a33837b",
  n: 10000000,
  seed: 20261125,
  undecidable: "refer",
  referralRate: { value: 0.2333499, monteCarloError: 0.000133752653869 },
  byFinding: {
    counts: {
      refer: { with: 243417, without: 1195653 },
      pass: { with: 123639, without: 7542862 },
      undecidable: { with: 45675, without: 848754 },
    },
    accuracy: {
      prevalence: { value: 0.0412731, monteCarloError: 0.0000629043966797 },
      sensitivity: { value: 0.700436846275, monteCarloError: 0.000713009217298 },
      specificity: { value: 0.786758147706, monteCarloError: 0.000132284631312 },
      positivePredictiveValue: { value: 0.123887775397, monteCarloError: 0.000215670272877 },
      negativePredictiveValue: { value: 0.983872825426, monteCarloError: 0.0000454935710063 },
    },
  },
  byLatent: {
    counts: {
      refer: { with: 217526, without: 1221544 },
      pass: { with: 92545, without: 7573956 },
      undecidable: { with: 42757, without: 851672 },
    },
    accuracy: {
      prevalence: { value: 0.0352828, monteCarloError: 0.0000583420294678 },
      sensitivity: { value: 0.737705057422, monteCarloError: 0.000740550735118 },
      specificity: { value: 0.785095984606, monteCarloError: 0.00013224633112 },
      positivePredictiveValue: { value: 0.111541937665, monteCarloError: 0.000206079005151 },
      negativePredictiveValue: { value: 0.987928652197, monteCarloError: 0.0000394404692864 },
    },
  },
  examined: {
    referred: {
      refer: { with: 243417, without: 1195653 },
      pass: { with: 0, without: 0 },
      undecidable: { with: 45675, without: 848754 },
    },
    sampled: {
      refer: { with: 0, without: 0 },
      pass: { with: 123639, without: 7542862 },
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
      n: 9010967,
      bias: { value: -0.631009621387, monteCarloError: 0.000347152941215 },
      sd: { value: 1.04209316818, monteCarloError: 0.000832151473649 },
    },
    J0: {
      n: 9010967,
      bias: { value: 0.0000838946886425, monteCarloError: 0.0000753198087693 },
      sd: { value: 0.22609705645, monteCarloError: 0.0000550771048204 },
    },
    J45: {
      n: 9010967,
      bias: { value: 0.000019953278997, monteCarloError: 0.0000570165858221 },
      sd: { value: 0.171153942553, monteCarloError: 0.0000432540657618 },
    },
  },
  differenceFromLatent: {
    n: 9010967,
    bias: { value: -0.681953149415, monteCarloError: 0.000338032308183 },
    sd: { value: 1.01471460316, monteCarloError: 0.00085904833216 },
  },
  eyeCorrelation: { value: 0.542514159513, monteCarloError: 0.000247382256782 },
  areaMyopia: { value: 0.91223835182, monteCarloError: 0.000162856657434 },
  areaHyperopia: { value: 0.704788488628, monteCarloError: 0.00058487881167 },
};
