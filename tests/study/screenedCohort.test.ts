import { expect, it } from "vitest";
import { linkCohort, readFindings, readReadings } from "../../src/cohort/index.js";
import { applyRule, defineRule } from "../../src/rules/index.js";
import { screenedCohort } from "../../src/study/run/screenedCohort.js";

it("holds the screened alone, a reading of low confidence as an unreadable one", async () => {
  const eye = (subject: string, side: string, sphere: number, confidenceScore: number) => ({
    subject,
    eye: side,
    sphere,
    cylinder: 0,
    axis: 180,
    confidenceScore,
    ageMonths: subject === "old" ? 200 : 50,
  });
  const readings = await readReadings([
    eye("sure", "OD", 1, 9),
    eye("sure", "OS", 1, 9),
    eye("plus-in-doubt", "OD", 4, 2),
    eye("plus-in-doubt", "OS", 1, 9),
    eye("plus-and-doubt", "OD", 4, 9),
    eye("plus-and-doubt", "OS", 1, 2),
    eye("old", "OD", 1, 9),
  ]);
  const findings = await readFindings([eye("exam-only", "OD", 1, 9), eye("sure", "OD", 1, 9)]);
  const cohort = linkCohort({
    readings,
    findings,
    confidenceAtLeast: 5,
    eligibility: { ageMonths: [36, 72] },
  });
  const { cohort: screened, positions } = screenedCohort(cohort);
  expect(screened.children.subject).toEqual(["sure", "plus-in-doubt", "plus-and-doubt"]);
  expect(Array.from(positions, (child) => cohort.children.subject[child])).toEqual(
    screened.children.subject,
  );
  const rule = defineRule({
    kind: "rule",
    id: "plus",
    title: "Plus",
    definition: "own",
    appliesTo: "reading",
    referWhen: [
      {
        criterion: "hyperopia",
        quantity: "M",
        eye: "either",
        relation: ">=",
        limit: 3,
      },
    ],
  });
  const words = (children: typeof cohort) => {
    const { codes, labels } = applyRule(rule, children).decision;
    return Array.from(codes, (code) => labels[code]);
  };
  expect(words(screened)).toEqual(["pass", "undecidable", "refer"]);
  // the cohort itself is left as it was
  expect(words(cohort).slice(0, 3)).toEqual(["pass", "refer", "refer"]);
});
