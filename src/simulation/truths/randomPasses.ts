// Written by tests/coverage/scenario-truths.mjs; not by hand.
import type { ScenarioTruth } from "../truthOfTally.js";

export const randomPasses: ScenarioTruth = {
  kind: "scenario-truth",
  scenario: "random-passes",
  fingerprint: "f2d1668d09a1292d",
  n: 10000000,
  seed: 20261125,
  undecidable: "refer",
  referralRate: { value: 0.0684671, monteCarloError: 0.000079861978574 },
  byFinding: {
    counts: {
      refer: { with: 247659, without: 389947 },
      pass: { with: 160340, without: 9154989 },
      undecidable: { with: 4732, without: 42333 },
    },
    accuracy: {
      prevalence: { value: 0.0412731, monteCarloError: 0.0000629043966797 },
      sensitivity: { value: 0.611514521565, monteCarloError: 0.000758677557272 },
      specificity: { value: 0.954911038795, monteCarloError: 0.0000670145514889 },
      positivePredictiveValue: { value: 0.368631065139, monteCarloError: 0.000583037654353 },
      negativePredictiveValue: { value: 0.982787510779, monteCarloError: 0.0000426140249762 },
    },
  },
  byLatent: {
    counts: {
      refer: { with: 224298, without: 413308 },
      pass: { with: 123830, without: 9191499 },
      undecidable: { with: 4700, without: 42365 },
    },
    accuracy: {
      prevalence: { value: 0.0352828, monteCarloError: 0.0000583420294678 },
      sensitivity: { value: 0.64903579081, monteCarloError: 0.000803496920802 },
      specificity: { value: 0.952766157792, monteCarloError: 0.0000682998559473 },
      positivePredictiveValue: { value: 0.334464290148, monteCarloError: 0.0005701899954 },
      negativePredictiveValue: { value: 0.986706857052, monteCarloError: 0.0000375239727277 },
    },
  },
  examined: {
    referred: {
      refer: { with: 167202, without: 263665 },
      pass: { with: 0, without: 0 },
      undecidable: { with: 2835, without: 25677 },
    },
    sampled: {
      refer: { with: 0, without: 0 },
      pass: { with: 16185, without: 916598 },
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
      n: 9954031,
      bias: { value: -0.633087175939, monteCarloError: 0.00033212512135 },
      sd: { value: 1.04785507367, monteCarloError: 0.000803112211903 },
    },
    J0: {
      n: 9954031,
      bias: { value: 0.0000226745717193, monteCarloError: 0.0000716757801981 },
      sd: { value: 0.226137154679, monteCarloError: 0.0000524075326573 },
    },
    J45: {
      n: 9954031,
      bias: { value: 0.0000270041151343, monteCarloError: 0.0000542689015565 },
      sd: { value: 0.171218436014, monteCarloError: 0.0000411445932798 },
    },
  },
  differenceFromLatent: {
    n: 9954031,
    bias: { value: -0.684060067766, monteCarloError: 0.000323553509291 },
    sd: { value: 1.02081162947, monteCarloError: 0.000829309582973 },
  },
  eyeCorrelation: { value: 0.54520710914, monteCarloError: 0.000223173935312 },
  areaMyopia: { value: 0.912393200895, monteCarloError: 0.000154605806416 },
  areaHyperopia: { value: 0.7044496774, monteCarloError: 0.000553501524802 },
};
