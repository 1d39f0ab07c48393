// Fills this folder with every figure, drawn from the data in the repository, and an index page that
// shows each beside the call that makes it. Run by `npm run gallery`.
//
// `--check` draws nothing new: it fails where a figure's ink reaches a page edge or the compiler
// has something to say.

import { readFileSync, writeFileSync } from "node:fs";
import {
  accuracyAtCutOffs,
  accuracyFromCounts,
  alignMeasurements,
  areaUnderCurve,
  biasBy,
  bestRule,
  biasByFigure,
  calibrateReading,
  calibrationFigure,
  chooseThreshold,
  clusteredAccuracy,
  correctVerification,
  crossClassify,
  cutOffFigure,
  defineColumns,
  demingRegression,
  differenceAgainstMeanFigure,
  differencePanelsFigure,
  doubleAngleFigure,
  doubleAngleSummary,
  examinedFigure,
  eyePairs,
  flowFigure,
  foldedDifferencesFigure,
  forestFigure,
  compareInstruments,
  compareProgrammes,
  describeProgramme,
  funnelFigure,
  funnelLimits,
  powerVectorPairs,
  programmeComparisonFigure,
  instrumentComparisonFigure,
  intervalMatchFigure,
  limitFigure,
  limitHeatMapFigure,
  limitRangesFigure,
  limitsOfAgreement,
  matchIntervalMethod,
  linkCohort,
  linkedFigures,
  methodRegressionFigure,
  netBenefit,
  netBenefitFigure,
  outcomesPerThousandFigure,
  nonparametricLimits,
  paretoFront,
  partialArea,
  predictiveValuesAt,
  planAgreementStudy,
  planFigure,
  planStudy,
  predictiveValuesFigure,
  ratesAlongLimitFigure,
  readFindings,
  readReadings,
  referralReasonsFigure,
  referredAgainstFoundFigure,
  refractionByAgeFigure,
  regressionLimits,
  render,
  repeatability,
  repeatabilityFigure,
  rocCurve,
  rocFigure,
  ruleFrontFigure,
  ruleSpace,
  scoreTradeoff,
  scoreTradeoffFigure,
  searchRules,
  sensitivityAtRates,
  shareDistributions,
  shareHistogramFigure,
  simulateCohort,
  toPowerVectors,
  vectorAgreement,
  vectorProjectionsFigure,
  verificationBounds,
  verificationBoundsFigure,
} from "meridional";
import { drawnPicture } from "../dist/figures/render/drawnPicture.js";

const folder = new URL("./", import.meta.url);
const data = (name) => new URL(`../data/${name}`, import.meta.url).pathname;

// ---- the children: readings without drops, findings with drops, both eyes ----

const columns = defineColumns(JSON.parse(readFileSync(data("children/columns.json"), "utf8")));
const readings = await readReadings(data("children/children.csv"), { columns });
const findings = await readFindings(data("children/children.csv"), { columns });
const link = { readings, findings, cycloplegia: "none" };
const cohort = linkCohort({ ...link, instrument: "handheld" });
const tableCohort = linkCohort({ ...link, instrument: "table" });
const pairs = eyePairs(cohort, { eyes: "both" });
const tablePairs = eyePairs(tableCohort, { eyes: "both" });
const agreement = limitsOfAgreement(pairs);
const tableAgreement = limitsOfAgreement(tablePairs);
const sloped = regressionLimits(tablePairs);
const dry = (instrument) => ({ data: readings, select: { instrument, cycloplegia: "none" } });
const aligned = alignMeasurements(
  { handheld: dry("handheld"), table: dry("table"), exam: { data: findings } },
  { eyes: "both" },
);
const { exam, ...compared } = aligned.values;
const instruments = compareInstruments({
  instruments: compared,
  reference: exam,
  subjects: aligned.subjects,
});

const myopia = "myopia of 3.00 D or more";
const condition = Array.from(pairs.reference, (value) => value <= -3);
const rows = { values: pairs.test, condition, subjects: pairs.subjects };
const curve = rocCurve({ values: pairs.test, condition }, { positiveWhen: "low" });
const area = areaUnderCurve(rows, { positiveWhen: "low" });
const partial = partialArea(curve, { falsePositiveRate: [0, 0.2] });
const band = sensitivityAtRates(rows, {
  positiveWhen: "low",
  falsePositiveRates: Array.from({ length: 41 }, (_, step) => step * 0.025),
  seed: 1,
});
const choice = await chooseThreshold(rows, {
  positiveWhen: "low",
  criterion: "youden",
  cutOffs: Array.from({ length: 25 }, (_, step) => -6 + step * 0.25),
  seed: 1,
  replicates: 500,
  repeats: 2,
  nested: { outer: 0, inner: 0 },
});
const table = crossClassify({
  test: Array.from(pairs.test, (value) => value <= -3),
  reference: condition,
});
const accuracy = accuracyFromCounts(table);
const predictive = predictiveValuesAt({
  table,
  prevalence: Array.from({ length: 55 }, (_, step) => Number((0.001 * 500 ** (step / 54)).toPrecision(4))),
});
const benefit = netBenefit(
  { table },
  { thresholdProbabilities: Array.from({ length: 50 }, (_, step) => 0.01 + step * 0.01) },
);

const components = (name) => {
  const J0 = eyePairs(cohort, { eyes: name, quantity: "J0" });
  const J45 = eyePairs(cohort, { eyes: name, quantity: "J45" });
  const M = eyePairs(cohort, { eyes: name });
  const vectors = (side) =>
    Array.from(M[side], (value, row) => ({ M: value, J0: J0[side][row], J45: J45[side][row] }));
  return { test: vectors("test"), reference: vectors("reference") };
};
const right = components("right");
const left = components("left");
const rightEyes = doubleAngleSummary({ vectors: right.reference });
const leftEyes = doubleAngleSummary({ vectors: left.reference });
const difference = vectorAgreement(right);
const vectorDifferences = right.test.map((vector, row) => ({
  M: vector.M - right.reference[row].M,
  J0: vector.J0 - right.reference[row].J0,
  J45: vector.J45 - right.reference[row].J45,
}));
const differences = right.test.map(({ J0, J45 }, row) => ({
  J0: J0 - right.reference[row].J0,
  J45: J45 - right.reference[row].J45,
}));

const ages = Float64Array.from(pairs.subjects, (child) => cohort.children.ageYears[child]);
const inBand = ([from, to]) => [...ages.keys()].filter((row) => ages[row] >= from && ages[row] <= to);
const pick = (rowsOf, column) => rowsOf.map((row) => column[row]);
const bands = { "4 to 7 years": [4, 7], "8 to 10 years": [8, 10], "11 years and older": [11, 99] };
const biasByAge = biasBy({ ...pairs, by: ages }, { label: "age (years)", breaks: [8, 11] });
const biasByRefraction = biasBy(
  { ...pairs, by: pairs.reference },
  { label: "refraction at the exam (D)", breaks: [-6, -3, 0] },
);
const calibration = calibrateReading(tablePairs);
const specificityByAge = [
  ...Object.entries(bands).map(([label, band]) => {
    const inside = inBand(band);
    const { specificity, table } = clusteredAccuracy({
      test: pick(inside, pairs.test).map((value) => value <= -3),
      reference: pick(inside, condition),
      subjects: pick(inside, pairs.subjects),
    });
    const counts = [table.trueNegative, table.falsePositive];
    return { label, n: inside.length, counts, estimate: specificity };
  }),
  {
    label: "all",
    n: pairs.n,
    counts: [table.trueNegative, table.falsePositive],
    estimate: accuracy.specificity,
    summary: true,
  },
];

const quarter = (from, to) =>
  Array.from({ length: Math.round((to - from) / 0.25) + 1 }, (_, step) => from + step * 0.25);
const cylinders = eyePairs(cohort, { eyes: "both", quantity: "J0" });
const ruleRows = {
  measures: {
    "myopia (−M)": Array.from(pairs.test, (value) => -value),
    "astigmatism (|J0|)": Array.from(cylinders.test, Math.abs),
  },
  condition: Array.from(
    pairs.reference,
    (value, row) => value <= -3 || Math.abs(cylinders.reference[row]) >= 1,
  ),
  limits: { "myopia (−M)": quarter(1.5, 5), "astigmatism (|J0|)": quarter(0.5, 2) },
};
const space = ruleSpace(ruleRows);
const front = paretoFront(space);
const demand = { specificityAtLeast: 0.85 };
const best = bestRule(space, demand);
const search = await searchRules(
  { ...ruleRows, subjects: pairs.subjects },
  { constraints: demand, seed: 1, folds: 5, repeats: 1, replicates: 200 },
);

// ---- open examples from print ----

// peak flow of 17 persons, two readings by each of two meters (Bland and Altman 1986)
const flow = readFileSync(data("classics/peak_flow_1986.csv"), "utf8").trim().split(/\r?\n/).slice(1);
const flows = flow.map((line) => line.split(",").map(Number));
const repeats = repeatability({
  values: flows.flatMap(([, , , first, second]) => [first, second]),
  units: flows.flatMap(([person]) => [person, person]),
});
const flowUnits = {
  mean: flows.map(([, , , first, second]) => (first + second) / 2),
  sd: flows.map(([, , , first, second]) => Math.abs(first - second) / Math.SQRT2),
};
const flowPairs = { test: flows.map(([, , , mini]) => mini), reference: flows.map(([, large]) => large) };
const flowAgreement = limitsOfAgreement(flowPairs);
const deming = demingRegression(tablePairs, { errorRatio: 1 });

// hepatic scans, of which some were verified (Drum and Christiansen 1972)
const scans = {
  verified: { truePositive: 231, falsePositive: 32, falseNegative: 27, trueNegative: 54 },
  unverified: { testPositive: 166, testNegative: 140 },
};
const bounds = verificationBounds(scans);
const corrected = correctVerification(scans);
// Law and others, J AAPOS 2020: 57 confirmed of 115 examined, printed as 50 % (41-60)
const printedInterval = matchIntervalMethod({
  table: { truePositive: 57, falsePositive: 58, falseNegative: 0, trueNegative: 0 },
  measure: "positivePredictiveValue",
  printed: { low: "41", high: "60" },
});

// ---- invented ----

const demo = defineColumns(JSON.parse(readFileSync(data("demo/columns.json"), "utf8")));
const demoCohort = linkCohort({
  readings: await readReadings(data("demo/invented-readings.csv"), { columns: demo, allowIdentifiers: ["age_months"] }),
  findings: await readFindings(data("demo/invented-findings.csv"), { columns: demo, allowIdentifiers: ["age_months"] }),
  correction: "none",
});
const demoPairs = eyePairs(demoCohort, { eyes: "both" });
const tradeoff = scoreTradeoff(
  {
    ...demoPairs,
    confidenceScore: Array.from(demoPairs.subjects, (child, row) =>
      demoCohort.readings.confidenceScore[
        demoCohort.children.readingRow[demoPairs.eye[row]][child]
      ],
    ),
    condition: Array.from(demoPairs.reference, (value) => value >= 3),
  },
  { betterWhen: "high", positiveWhen: "high", cutOff: 2 },
);

// a simulated programme: every referral and one pass in twenty is invited to the exam
const programme = await simulateCohort({ children: 4000, seed: 1 });
const screened = linkCohort({ readings: programme.readings, findings: programme.findings });
const readingM = toPowerVectors(screened.readings).M;
const verification = screened.children.verification;
const rightReadings = (labels) =>
  Array.from(screened.children.readingRow.right, (row, child) =>
    row >= 0 && labels.includes(verification.labels[verification.codes[child]]) ? readingM[row] : NaN,
  ).filter(Number.isFinite);

// invented years of a programme: schools of several sizes, one of which refers twice as often
const inventedYears = [2, 3].map((referredIn20) => {
  const children = Array.from({ length: 12 }, (_, school) =>
    Array.from({ length: 80 + 30 * school }, (_, child) => {
      const chance = school === 7 ? 2 * referredIn20 : referredIn20;
      const refer = (child * 7 + school) % 20 < chance;
      const examined = refer ? child % 5 < 3 : child % 9 === 0;
      return { school, child, refer, examined };
    }),
  ).flat();
  return describeProgramme({
    decision: children.map(({ refer }) => (refer ? "refer" : "pass")),
    condition: children.map(({ examined, refer, child }) =>
      examined ? child % (refer ? 2 : 81) === 0 : null,
    ),
    reason: children.map(({ examined, refer }) =>
      examined ? (refer ? "referred" : "sampled") : "not-examined",
    ),
    by: {
      site: children.map(({ school }) => `School ${school + 1}`),
      age: children.map(({ child }) => (child % 3 === 0 ? "below 5 years" : "5 years and older")),
    },
  });
});

const inventedFindings = [
  ["hyperopia", "hyperopia", 38],
  ["hyperopia", "nothing", 21],
  ["hyperopia", "astigmatism", 12],
  ["astigmatism", "hyperopia", 5],
  ["astigmatism", "astigmatism", 64],
  ["astigmatism", "nothing", 33],
  ["anisometropia", "hyperopia", 14],
  ["anisometropia", "astigmatism", 11],
  ["anisometropia", "nothing", 16],
].map(([referredFor, found, children]) => ({ referredFor, found, children }));
const inventedThousand = {
  of: "1000 children screened",
  parts: [
    { outcome: "rightly-referred", share: 0.041, words: "41 (32 to 52)" },
    { outcome: "wrongly-referred", share: 0.097, words: "97 (82 to 113)" },
    { outcome: "missed", share: 0.012, words: "12 (7 to 20)" },
    { outcome: "rightly-passed", share: 0.85, words: "850 (832 to 867)" },
  ],
};
const inventedReasons = [
  { reasons: ["hyperopia"], children: 41 },
  { reasons: ["astigmatism"], children: 63 },
  { reasons: ["anisometropia"], children: 19 },
  { reasons: ["hyperopia", "anisometropia"], children: 14 },
  { reasons: ["astigmatism", "anisometropia"], children: 8 },
  { reasons: ["hyperopia", "astigmatism", "anisometropia"], children: 3 },
];

// an invented plan
const planned = planStudy(JSON.parse(readFileSync(data("plans/invented-accuracy.json"), "utf8")));

const sections = [
  {
    title: "Who was studied",
    figures: [
      () => flowFigure(cohort.flow, { audience: "public" }),
      () =>
        examinedFigure(
          shareDistributions({
            examined: rightReadings(["examined"]),
            "not examined": rightReadings(["pending", "lost"]),
          }),
        ),
      () =>
        refractionByAgeFigure(
          shareDistributions({
            "4 to 7 years": pick(inBand([4, 7]), pairs.reference),
            "8 to 10 years": pick(inBand([8, 10]), pairs.reference),
            "11 years and older": pick(inBand([11, 99]), pairs.reference),
          }),
        ),
      () =>
        shareHistogramFigure(
          shareDistributions({ reading: pairs.test, "finding at the exam": pairs.reference }),
          { quantity: "spherical equivalent", sameRows: true },
        ),
    ],
  },
  {
    title: "Can the reading be trusted",
    figures: [
      // openly published, de-identified data: every eye is a mark
      () => differenceAgainstMeanFigure(agreement, pairs, { audience: "journal" }),
      () => ({
        ...differenceAgainstMeanFigure(tableAgreement, tablePairs, {
          acceptable: 0.5,
          audience: "public",
        }),
        name: "difference-against-mean-public",
      }),
      () =>
        differencePanelsFigure(
          ["M", "J0", "J45"].map((quantity) => {
            const one = eyePairs(tableCohort, { eyes: "right", quantity });
            return { label: quantity, agreement: limitsOfAgreement(one), points: one };
          }),
          { audience: "journal", acceptable: 0.5 },
        ),
      () => ({
        ...differencePanelsFigure(
          Object.entries(bands).map(([label, band]) => {
            const inside = inBand(band);
            const some = { test: pick(inside, pairs.test), reference: pick(inside, pairs.reference) };
            return { label, agreement: limitsOfAgreement(some), points: some };
          }),
        ),
        name: "difference-panels-by-age",
      }),
      () => ({
        ...differenceAgainstMeanFigure(tableAgreement, tablePairs, {
          regression: sloped,
          histogram: true,
          audience: "journal",
        }),
        name: "difference-against-mean-sloped",
      }),
      () => ({
        ...differenceAgainstMeanFigure(flowAgreement, flowPairs, {
          quantity: "peak expiratory flow",
          unit: "l/min",
          row: "person",
          audience: "journal",
          step: 1,
        }),
        name: "difference-against-mean-peak-flow",
      }),
      () => foldedDifferencesFigure(nonparametricLimits(tablePairs), tablePairs),
      () =>
        doubleAngleFigure(
          [
          {
            label: "right eyes",
            n: rightEyes.n,
            ellipses: [rightEyes.ellipses.centroid, rightEyes.ellipses.eyes],
            points: right.reference,
          },
          {
            label: "left eyes",
            n: leftEyes.n,
            ellipses: [leftEyes.ellipses.centroid, leftEyes.ellipses.eyes],
            points: left.reference,
          },
          ],
          { audience: "journal" },
        ),
      () => ({
        ...doubleAngleFigure(
          [
            {
              label: "right eyes",
              n: difference.n,
              ellipses: [difference.ellipses.centroid, difference.ellipses.eyes],
              points: differences,
            },
          ],
          { quantity: "difference, test − reference", of: "difference", audience: "journal" },
        ),
        name: "double-angle-difference",
      }),
      () => methodRegressionFigure({ Deming: deming }, tablePairs, { range: [-7, 1], audience: "journal" }),
      () => instrumentComparisonFigure(instruments),
      () => biasByFigure(biasByAge),
      () => biasByFigure(biasByRefraction),
      () => calibrationFigure(calibration, tablePairs, { audience: "journal" }),
      () => vectorProjectionsFigure(difference, vectorDifferences, { audience: "journal" }),
      () => linkedFigures(powerVectorPairs(cohort, { eyes: "both" })),
      () => scoreTradeoffFigure(tradeoff),
      () =>
        repeatabilityFigure(repeats, flowUnits, {
          quantity: "peak expiratory flow, small meter",
          unit: "l/min",
          row: "person",
          audience: "journal",
          step: 1,
        }),
    ],
  },
  {
    title: "Where is the line",
    figures: [
      () =>
        rocFigure(curve, area, {
          condition: myopia,
          marked: [
            { cutOff: -3, origin: "pre-specified", accuracy },
            { cutOff: choice.cutOff, origin: "chosen", accuracy: accuracyFromCounts(choice.table) },
          ],
          band,
          partial,
        }),
      () => ({
        ...rocFigure(curve, area, {
          condition: myopia,
          band,
          marked: [{ cutOff: -3, origin: "pre-specified", accuracy }],
          audience: "journal",
        }),
        name: "roc-journal",
      }),
      () =>
        limitFigure({ ...curve, audience: "journal" }, accuracyAtCutOffs(curve), {
          limit: -3,
          condition: myopia,
        }),
      () =>
        ratesAlongLimitFigure(curve, { condition: myopia, quantity: "spherical equivalent", limit: -3 }),
      () => ({
        ...ratesAlongLimitFigure(curve, {
          condition: myopia,
          quantity: "spherical equivalent",
          limit: -3,
          audience: "journal",
        }),
        name: "rates-along-limit-journal",
      }),
      () => cutOffFigure(choice),
      () => ruleFrontFigure(front, { chosen: best, plateau: search.plateau.rules, row: "eye" }),
      () => ({
        ...ruleFrontFigure(front, {
          chosen: best,
          plateau: search.plateau.rules,
          row: "eye",
          audience: "journal",
        }),
        name: "rule-front-journal",
      }),
      () => limitRangesFigure(search, { row: "eye" }),
      () => limitHeatMapFigure(space, { chosen: best.limits, row: "eye" }),
      () => limitHeatMapFigure(space, { show: "specificity", chosen: best.limits, row: "eye" }),
      () => predictiveValuesFigure(predictive, { n: pairs.n, condition: myopia }),
      () => netBenefitFigure(benefit, { condition: myopia, row: "eye" }),
    ],
  },
  {
    title: "A programme",
    figures: [
      () => funnelFigure(funnelLimits(inventedYears[0])),
      () =>
        programmeComparisonFigure(
          compareProgrammes(inventedYears[0], inventedYears[1], { names: ["2024", "2025"] }),
        ),
    ],
  },
  {
    title: "Who is referred",
    figures: [
      () => outcomesPerThousandFigure([inventedThousand], { intervals: "95 % intervals" }),
      () => referralReasonsFigure(inventedReasons),
      () => referredAgainstFoundFigure(inventedFindings),
      () =>
        forestFigure(specificityByAge, {
          quantity: "specificity",
          unit: "",
          grouping: "age",
          name: "specificity-by-age",
        }),
      () => intervalMatchFigure(printedInterval),
      () =>
        verificationBoundsFigure(bounds, {
          n: 650,
          estimates: corrected,
          label: "corrected for verification",
        }),
    ],
  },
  {
    title: "How many children",
    figures: [
      () => planFigure(planned),
      () => ({
        ...planFigure(
          planAgreementStudy({ expected: { bias: -0.1, sd: 0.5 }, aim: { within: 1.5, power: 0.8 } }),
        ),
        name: "study-size-power",
      }),
    ],
  },
];

const check = process.argv.includes("--check");
const html = [];
const faults = [];
for (const { title, figures } of sections) {
  html.push(`<h2>${title}</h2>`);
  for (const call of figures) {
    const figure = call();
    const { name } = figure;
    const { warnings, edges } = await drawnPicture(figure);
    if (warnings.length > 0) faults.push(`${name}: ${warnings.join("; ")}`);
    if (edges.length > 0) faults.push(`${name}: ink at the ${edges.join(", ")} edge`);
    if (check) continue;
    writeFileSync(new URL(`${name}.svg`, folder), await render(figure));
    writeFileSync(new URL(`${name}.png`, folder), await render(figure, { format: "png" }));
    writeFileSync(new URL(`${name}.pdf`, folder), await render(figure, { format: "pdf" }));
    const source = call.toString().replace(/^\(\) =>\s*/, "").replace(/^\n? {6,8}/gm, "");
    html.push(`<figure id="${name}">
<img src="${name}.svg" alt="${escape(figure.alt)}">
<figcaption>${escape(figure.caption)}</figcaption>
<pre>${escape(source)}</pre>
</figure>`);
  }
}
if (!check) writeFileSync(new URL("index.html", folder), page(html.join("\n")));
if (faults.length > 0) {
  console.error(faults.join("\n"));
  process.exitCode = 1;
}

function page(body) {
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Figures</title>
<style>
:root { color-scheme: light dark; --ink: #1c1c1c; --page: #fff; --code: #f3f3f3; }
@media (prefers-color-scheme: dark) { :root { --ink: #ecebe7; --page: #16191d; --code: #24282e; } }
body { font: 16px/1.5 sans-serif; max-width: 60rem; margin: 2rem auto; padding: 0 1rem; color: var(--ink); background: var(--page); }
figure { margin: 0 0 3rem; }
img { max-width: 100%; height: auto; }
figcaption { max-width: 42rem; }
pre { background: var(--code); padding: 0.75rem; overflow-x: auto; font-size: 0.85rem; }
</style>
</head>
<body>
<h1>Figures</h1>
<p>Drawn by <code>npm run gallery</code> from the data in the repository; what each call is given is
in <code>gallery.mjs</code>. The outcomes of a thousand, the counts of referral reasons and of what
was found, the years of a programme, the data behind the score trade-off and the not examined, and what the plans of studies expect,
are invented. Research use only; not a medical device.</p>
${body}
</body>
</html>
`;
}

function escape(text) {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll('"', "&quot;");
}
