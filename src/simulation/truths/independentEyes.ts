// Written by tests/coverage/scenario-truths.mjs; not by hand.
import type { ScenarioTruth } from "../truthOfTally.js";

export const independentEyes: ScenarioTruth = {
  kind: "scenario-truth",
  scenario: "independent-eyes",
  fingerprint: "b5f19df0e8bf3d93",
  n: 10000000,
  seed: 20261125,
  undecidable: "refer",
  referralRate: { value: 0.2909479, monteCarloError: 0.000143630504937 },
  byFinding: {
    counts: {
      refer: { with: 630486, without: 1408800 },
      pass: { with: 568303, without: 6522218 },
      undecidable: { with: 103096, without: 767097 },
    },
    accuracy: {
      prevalence: { value: 0.1301885, monteCarloError: 0.00010641402843 },
      sensitivity: { value: 0.563476804787, monteCarloError: 0.000434665701918 },
      specificity: { value: 0.749842695802, monteCarloError: 0.000146851742501 },
      positivePredictiveValue: { value: 0.252135176092, monteCarloError: 0.000254577876488 },
      negativePredictiveValue: { value: 0.919850318474, monteCarloError: 0.000101969527813 },
    },
  },
  byLatent: {
    counts: {
      refer: { with: 574188, without: 1465098 },
      pass: { with: 462599, without: 6627922 },
      undecidable: { with: 88161, without: 782032 },
    },
    accuracy: {
      prevalence: { value: 0.1124948, monteCarloError: 0.0000999198278486 },
      sensitivity: { value: 0.588781881474, monteCarloError: 0.000463924293882 },
      specificity: { value: 0.746803737037, monteCarloError: 0.000145964227721 },
      positivePredictiveValue: { value: 0.227652098537, monteCarloError: 0.000245829898037 },
      negativePredictiveValue: { value: 0.934758108748, monteCarloError: 0.0000927414363461 },
    },
  },
  examined: {
    referred: {
      refer: { with: 630486, without: 1408800 },
      pass: { with: 0, without: 0 },
      undecidable: { with: 103096, without: 767097 },
    },
    sampled: {
      refer: { with: 0, without: 0 },
      pass: { with: 568303, without: 6522218 },
      undecidable: { with: 0, without: 0 },
    },
    selfPresented: {
      refer: { with: 0, without: 0 },
      pass: { with: 0, without: 0 },
      undecidable: { with: 0, without: 0 },
    },
  },
  conditionByFindingOnly: 257840,
  conditionByLatentOnly: 80903,
  difference: {
    M: {
      n: 9042951,
      bias: { value: -0.651826737754, monteCarloError: 0.000333199646746 },
      sd: { value: 1.00198131092, monteCarloError: 0.000872240455415 },
    },
    J0: {
      n: 9042951,
      bias: { value: 0.0000786282448355, monteCarloError: 0.0000752099126616 },
      sd: { value: 0.226167487328, monteCarloError: 0.0000549983246753 },
    },
    J45: {
      n: 9042951,
      bias: { value: 0.0000218538803097, monteCarloError: 0.0000569434085882 },
      sd: { value: 0.171237369976, monteCarloError: 0.0000432090504394 },
    },
  },
  differenceFromLatent: {
    n: 9042951,
    bias: { value: -0.651936417463, monteCarloError: 0.000327263275627 },
    sd: { value: 0.984129752637, monteCarloError: 0.000886024186522 },
  },
  eyeCorrelation: { value: 0.000171932265389, monteCarloError: 0.00034971738531 },
  areaMyopia: { value: 0.93743566803, monteCarloError: 0.00015313949144 },
  areaHyperopia: { value: 0.656962829041, monteCarloError: 0.000661161006734 },
};
