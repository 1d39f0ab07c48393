import { expect, test } from "vitest";
import { linkCohort } from "../../src/cohort/index.js";
import { simulateCohort } from "../../src/simulation/index.js";
import { describe, minus, readingM } from "./measure.js";

test("a simulated cohort links like one that was read, and nobody is lost", async () => {
  const { readings, findings, truth, n } = await simulateCohort({
    children: 3000,
    seed: 12,
    scenario: "random-passes",
  });
  const { children, flow } = linkCohort({ readings, findings });
  expect(children.n).toBe(n);
  const examined = Array.from(children.verification.codes).filter(
    (code) => children.verification.labels[code] === "examined",
  );
  expect(examined).toHaveLength(truth.examined.reduce((sum, one) => sum + one, 0));
  for (const box of flow.boxes) {
    const parts = flow.boxes.filter(({ partOf }) => partOf === box.id);
    if (parts.length > 0) {
      expect(
        parts.reduce((sum, part) => sum + part.children, 0),
        box.id,
      ).toBe(box.children);
    }
  }
});

test("a low confidence score goes with larger and more gross errors", async () => {
  const cohort = await simulateCohort({ children: 20_000, seed: 13, scenario: "complete" });
  const error = minus(readingM(cohort, "handheld", "right"), cohort.truth.finding.right.M);
  const score = new Float64Array(cohort.n).fill(Number.NaN);
  const { readings } = cohort;
  for (let row = 0; row < readings.n; row += 2) {
    score[readings.subject.codes[row]] = readings.confidenceScore![row];
  }
  const low = describe(error, (row) => score[row] <= 5);
  const high = describe(error, (row) => score[row] >= 9);
  expect(low.n).toBeGreaterThan(1000);
  expect(high.n).toBeGreaterThan(1000);
  expect(low.sd).toBeGreaterThan(1.1 * high.sd);
  expect(low.beyond(3)).toBeGreaterThan(1.3 * high.beyond(3));
});
