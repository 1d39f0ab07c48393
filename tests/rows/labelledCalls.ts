import * as face from "../../src/face.js";
import * as internal from "../../src/internal.js";

const plain: { readonly [name: string]: unknown } = { ...internal, ...face };
/** The site of each row; while there is one, every call below is made with `clusters` in place of its labels. */
export const sites: { ofRows: readonly string[] | null } = { ofRows: null };
const api = Object.fromEntries(
  Object.entries(plain).map(([name, one]) => [
    name,
    typeof one === "function" ? (...given: unknown[]) => one(...given.map(withSites)) : one,
  ]),
) as typeof internal & typeof face;

function withSites(given: unknown): unknown {
  const site = sites.ofRows;
  if (site === null || typeof given !== "object" || given === null || Array.isArray(given)) {
    return given;
  }
  const { subjects, ...others } = given as { [key: string]: unknown };
  const inner = Object.fromEntries(
    Object.entries(others).map(([key, one]) => [
      key,
      key === "first" || key === "second" ? withSites(one) : one,
    ]),
  );
  return subjects === undefined ? inner : { ...inner, clusters: { subject: subjects, site } };
}

export const rows = Array.from({ length: 12 }, (_, row) => row);
const test = [1, 2.25, 3, 4.5, 5, 6.75, 7, 8.5, 9, 10.25, 11, 12.5];
const reference = [1.5, 2, 3.25, 4, 5.5, 6, 7.5, 8, 9.25, 10, 11.75, 12];
const condition = [0, 0, 1, 0, 0, 1, 0, 1, 1, 0, 1, 1];
const yes = [0, 1, 1, 0, 0, 1, 0, 1, 0, 0, 1, 1];
const pairs = { test, reference };
const roc = { values: test, condition };
const high = { positiveWhen: "high" } as const;
const drawn = { ...high, seed: 1, replicates: 20 } as const;
const vectors = rows.map((row) => ({ M: row % 5, J0: row % 3, J45: (row * row) % 7 }));
const origin = vectors.map(() => ({ M: 0, J0: 0, J45: 0 }));
const cylinders = rows.map((row) => ({ cylinder: -1 - row / 4, axis: 10 * row }));
const bands = [
  { fromMonths: 0, toMonths: 50 },
  { fromMonths: 50, toMonths: 100 },
];
const ageMonths = rows.map((row) => (row < 6 ? 40 : 80));
const examined = rows.map(() => 1);
const grid = { measures: { sphere: test }, condition, limits: { sphere: [3, 6, 9] } };
const search = { constraints: {}, folds: 2, repeats: 1, replicates: 20, seed: 1 } as const;
const choice = { ...drawn, criterion: "youden", folds: 2, repeats: 1 } as const;
const other = { values: test, condition };

const programme = {
  recorded: rows.map(() => "refer"),
  test: yes,
  reference: condition,
  reason: rows.map(() => "referred"),
};

export type Labels = (string | number)[];
/** Every public function and its column of labels, as a caller writes them. */
export const labelledCalls: { readonly [name: string]: (labels: Labels) => unknown } = {
  "bootstrap subjects": (subjects) =>
    api.bootstrap((some) => some.length, { rows, subjects, replicates: 20, seed: 1 }),
  "surveyMean strata": (strata) => api.surveyMean({ values: test, weights: test, strata }),
  "surveyMean units": (units) => api.surveyMean({ values: test, weights: test, units }),
  "surveyShare strata": (strata) => api.surveyShare({ condition, weights: test, strata }),
  "surveyShare units": (units) => api.surveyShare({ condition, weights: test, units }),
  "surveyLimits strata": (strata) => api.surveyLimits({ ...pairs, weights: test, strata }),
  "surveyLimits units": (units) => api.surveyLimits({ ...pairs, weights: test, units }),
  "compareInstruments subjects": (subjects) =>
    api.compareInstruments({ instruments: { a: test, b: reference }, reference: test, subjects }),
  "bootstrap strata": (strata) =>
    api.bootstrap((some) => some.length, { rows, strata, replicates: 20, seed: 1 }),
  "accuracyByGroup by": (by) => api.accuracyByGroup({ test: yes, reference: condition, by }),
  "accuracyByGroup subjects": (subjects) =>
    api.accuracyByGroup({ test: yes, reference: condition, by: yes, subjects }),
  "compareNetBenefit subjects": (subjects) =>
    api.compareNetBenefit(
      { first: yes, second: condition, reference: condition, subjects },
      { thresholdProbabilities: [0.2] },
    ),
  "imperfectReference subjects": (subjects) =>
    api.imperfectReference(
      { test: yes, reference: test, subjects },
      { limit: { relation: ">=", limit: 6 }, errorSd: 0.25, step: 0.25 },
    ),
  "clusteredAccuracy subjects": (subjects) =>
    api.clusteredAccuracy({ test: yes, reference: condition, subjects }),
  "comparePairedAccuracy subjects": (subjects) =>
    api.comparePairedAccuracy({ first: yes, second: condition, reference: condition, subjects }),
  "correctByDecision subjects": (subjects) => api.correctByDecision({ ...programme, subjects }),
  "verificationCells subjects": (subjects) => api.verificationCells({ ...programme, subjects }),
  "verificationWeights subjects": (subjects) => api.verificationWeights({ ...programme, subjects }),
  "inconclusiveVariants subjects": (subjects) =>
    api.inconclusiveVariants({ test: yes, reference: condition, subjects }),
  "unreadableVariants subjects": (subjects) =>
    api.unreadableVariants({ test: yes, reference: condition, subjects }),
  "limitsOfAgreement subjects": (subjects) => api.limitsOfAgreement({ ...pairs, subjects }),
  "limitsOfAgreement units": (units) => api.limitsOfAgreement({ ...pairs, units }),
  "regressionLimits subjects": (subjects) => api.regressionLimits({ ...pairs, subjects }),
  "ratioLimits subjects": (subjects) => api.ratioLimits({ ...pairs, subjects }),
  "ratioLimits units": (units) => api.ratioLimits({ ...pairs, units }),
  "nonparametricLimits subjects": (subjects) => api.nonparametricLimits({ ...pairs, subjects }),
  "examinationWeights strata": (strata) => api.examinationWeights({ examined, strata }),
  "weightedLimits subjects": (subjects) =>
    api.weightedLimits({ ...pairs, weights: examined, subjects }),
  "weightedLimits examination.strata": (strata) =>
    api.weightedLimits(
      { ...pairs, examination: { examined, strata } },
      { seed: 1, replicates: 20 },
    ),
  "withinDifference subjects": (subjects) => api.withinDifference({ ...pairs, subjects }),
  "biasBy subjects": (subjects) => api.biasBy({ ...pairs, by: yes, subjects }, { label: "x" }),
  "biasBy units": (units) => api.biasBy({ ...pairs, by: yes, units }, { label: "x" }),
  "differenceRegression subjects": (subjects) =>
    api.differenceRegression({ ...pairs, covariates: { yes }, subjects }),
  "greyZone subjects": (subjects) => api.greyZone({ ...pairs, subjects }, { ...high, limit: 6 }),
  "vectorAgreement subjects": (subjects) =>
    api.vectorAgreement({ test: vectors, reference: origin, subjects }),
  "doubleAngleSummary subjects": (subjects) => api.doubleAngleSummary({ vectors, subjects }),
  "axisAgreement subjects": (subjects) =>
    api.axisAgreement({ test: cylinders, reference: cylinders, subjects }),
  "repeatability units": (units) =>
    api.repeatability({
      values: [...test, ...test],
      units: [...units, ...units],
    }),
  "repeatability subjects": (subjects) =>
    api.repeatability({ values: test, units: rows.map((row) => row >> 1), subjects }),
  "concordanceCorrelation subjects": (subjects) =>
    api.concordanceCorrelation({ ...pairs, subjects }),
  "demingRegression subjects": (subjects) =>
    api.demingRegression({ ...pairs, subjects }, { errorRatio: 1 }),
  "passingBablok subjects": (subjects) => api.passingBablok({ ...pairs, subjects }),
  "pairedTTest units": (units) => api.pairedTTest({ ...pairs, units }),
  "signedRankTest units": (units) => api.signedRankTest({ ...pairs, units }),
  "concordanceCorrelation units": (units) => api.concordanceCorrelation({ ...pairs, units }),
  "demingRegression units": (units) => api.demingRegression({ ...pairs, units }, { errorRatio: 1 }),
  "withinDifference units": (units) => api.withinDifference({ ...pairs, units }),
  "nonparametricLimits units": (units) => api.nonparametricLimits({ ...pairs, units }),
  "passingBablok units": (units) => api.passingBablok({ ...pairs, units }),
  "regressionLimits units": (units) => api.regressionLimits({ ...pairs, units }),
  "differenceRegression units": (units) =>
    api.differenceRegression({ ...pairs, units, covariates: { yes } }),
  "pairedTTest subjects": (subjects) => api.pairedTTest({ ...pairs, subjects }),
  "signedRankTest subjects": (subjects) => api.signedRankTest({ ...pairs, subjects }),
  "calibrateReading subjects": (subjects) => api.calibrateReading({ ...pairs, subjects }),
  "areasByAgeBand subjects": (subjects) =>
    api.areasByAgeBand({ ...roc, ageMonths, subjects }, { ...high, bands }),
  "areaUnderCurve subjects": (subjects) => api.areaUnderCurve({ ...roc, subjects }, high),
  "areaUnderCurve strata": (strata) =>
    api.areaUnderCurve({ ...roc, strata }, { ...drawn, interval: "bootstrap" }),
  "areaUnderCurve examination.strata": (strata) =>
    api.areaUnderCurve(
      { ...roc, examination: { examined, strata } },
      { ...drawn, interval: "bootstrap" },
    ),
  "areaUnderCurveOnThreads subjects": (subjects) =>
    api.areaUnderCurveOnThreads({ ...roc, subjects }, { ...drawn, workers: 1 }),
  "areaUnderCurveOnThreads strata": (strata) =>
    api.areaUnderCurveOnThreads({ ...roc, strata }, { ...drawn, workers: 1 }),
  "areaUnderCurveOnThreads examination.strata": (strata) =>
    api.areaUnderCurveOnThreads(
      { ...roc, examination: { examined, strata } },
      { ...drawn, workers: 1 },
    ),
  "chooseThreshold subjects": (subjects) => api.chooseThreshold({ ...roc, subjects }, choice),
  "chooseThreshold strata": (strata) => api.chooseThreshold({ ...roc, strata }, choice),
  "chooseThreshold examination.strata": (strata) =>
    api.chooseThreshold({ ...roc, examination: { examined, strata } }, choice),
  "compareAreas subjects": (subjects) =>
    api.compareAreas({ first: test, second: vectors.map(({ M }) => M), condition, subjects }, high),
  "compareSeveralAreas subjects": (subjects) =>
    api.compareSeveralAreas(
      { values: { a: test, b: vectors.map(({ M }) => M) }, condition, subjects },
      high,
    ),
  "compareIndependentAreas first.subjects": (subjects) =>
    api.compareIndependentAreas({ first: { ...roc, subjects }, second: other }, high),
  "compareIndependentAreas second.subjects": (subjects) =>
    api.compareIndependentAreas({ first: other, second: { ...roc, subjects } }, high),
  "scoreTradeoff subjects": (subjects) =>
    api.scoreTradeoff(
      { ...pairs, confidenceScore: examined, condition, subjects },
      { ...high, betterWhen: "high", cutOff: 6 },
    ),
  "scoreTradeoff units": (units) =>
    api.scoreTradeoff(
      { ...pairs, confidenceScore: examined, condition, units },
      { ...high, betterWhen: "high", cutOff: 6 },
    ),
  "sensitivityAtRates subjects": (subjects) =>
    api.sensitivityAtRates({ ...roc, subjects }, { ...drawn, falsePositiveRates: [0.25] }),
  "sensitivityAtRates strata": (strata) =>
    api.sensitivityAtRates({ ...roc, strata }, { ...drawn, falsePositiveRates: [0.25] }),
  "sensitivityAtRates examination.strata": (strata) =>
    api.sensitivityAtRates(
      { ...roc, examination: { examined, strata } },
      { ...drawn, falsePositiveRates: [0.25] },
    ),
  "thresholdsByAgeBand subjects": (subjects) =>
    api.thresholdsByAgeBand(
      { ...roc, ageMonths, subjects },
      { ...choice, bands, permutations: 19 },
    ),
  "validateThreshold subjects": (subjects) =>
    api.validateThreshold({ ...roc, subjects }, { ...high, cutOff: 6 }),
  "validateThreshold strata": (strata) =>
    api.validateThreshold({ ...roc, weights: examined, strata }, { ...drawn, cutOff: 6 }),
  "validateThreshold examination.strata": (strata) =>
    api.validateThreshold({ ...roc, examination: { examined, strata } }, { ...drawn, cutOff: 6 }),
  "restrictToExamined subjects": (subjects) =>
    api.restrictToExamined({ ...grid, examined, subjects }, { sphere: 3 }),
  "searchRules subjects": (subjects) => api.searchRules({ ...grid, subjects }, search),
  "searchRules examination.strata": (strata) =>
    api.searchRules({ ...grid, examination: { examined, strata } }, search),
  "streamRules subjects": (subjects) => api.streamRules({ ...grid, subjects }, { constraints: {} }),
  "streamRules examination.strata": (strata) =>
    api.streamRules({ ...grid, examination: { examined, strata } }, { constraints: {} }),
};
