// Coverage of the nested interval of corrected performance. The long study writes
// tests/coverage/thresholds/nested.json:
//   COVERAGE_STUDY=long npx vitest run tests/thresholds/nestedCoverage.test.ts
import { readFileSync, writeFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { inFull } from "../builders/inFull.js";
import {
  allNestedStudies,
  type NestedStudyResult,
  nestedCoverage,
} from "../coverage/thresholds/nested.js";

const long = process.env.COVERAGE_STUDY === "long";
const file = new URL("../coverage/thresholds/nested.json", import.meta.url);

describe.runIf(long)("the long study", () => {
  it("is written", { timeout: 3_600_000 }, async () => {
    const results: NestedStudyResult[] = [];
    for (const [at, study] of allNestedStudies().entries()) {
      results.push(await nestedCoverage(study, 300, 7000 + at));
      writeFileSync(file, `[\n${results.map((result) => JSON.stringify(result)).join(",\n")}\n]\n`);
    }
    expect(results.length).toBe(14);
  });
});

describe.skipIf(long)("coverage of the nested interval", () => {
  const saved: NestedStudyResult[] = long ? [] : JSON.parse(readFileSync(file, "utf8"));
  const youden = saved.filter(({ criterion, eyes }) => criterion === "youden" && eyes === "one");
  const constrained = saved.filter(({ criterion }) => criterion !== "youden");
  const measures = ["sensitivity", "specificity", "youdenIndex"] as const;
  const mean = (results: readonly NestedStudyResult[], measure: (typeof measures)[number]) =>
    results.reduce((sum, { ofOwnCutOff }) => sum + ofOwnCutOff[measure], 0) / results.length;
  const worst = (results: readonly NestedStudyResult[], measure: (typeof measures)[number]) =>
    Math.min(...results.map(({ ofOwnCutOff }) => ofOwnCutOff[measure]));

  it("is the whole grid, an interval in every cohort", () => {
    expect(
      saved.map(({ criterion, area, cases, eyes }) => ({ criterion, area, cases, eyes })),
    ).toEqual(
      allNestedStudies().map(({ criterion, area, cases, eyes }) => ({
        criterion,
        area,
        cases,
        eyes,
      })),
    );
    for (const { cohorts, estimable } of saved) expect([cohorts, estimable]).toEqual([300, 300]);
  });

  it("as the room's README publishes it: means and worst cells", () => {
    const published = (results: readonly NestedStudyResult[]) =>
      measures.map((measure) => [
        Number(mean(results, measure).toFixed(3)),
        Number(worst(results, measure).toFixed(3)),
      ]);
    expect(published(youden)).toEqual([
      [0.945, 0.837],
      [0.969, 0.953],
      [0.916, 0.827],
    ]);
    expect(published(constrained)).toEqual([
      [0.979, 0.963],
      [0.847, 0.807],
      [0.972, 0.947],
    ]);
    expect(published(saved.filter(({ eyes }) => eyes === "paired"))).toEqual([
      [0.923, 0.907],
      [0.98, 0.97],
      [0.903, 0.9],
    ]);
  });

  it("the interval of a rate that the criterion holds fast covers too little", () => {
    for (const { ofOwnCutOff } of constrained) expect(ofOwnCutOff.specificity).toBeLessThan(0.9);
  });

  it.runIf(inFull(false, true))(
    "a cell of the saved study comes out again",
    { timeout: 60_000 },
    async () => {
      const result = saved[1];
      const again = await nestedCoverage(result, 40, 12_345);
      for (const measure of measures) {
        // three and a half Monte Carlo errors of the difference, at the saved share
        const share = result.ofOwnCutOff[measure];
        const error = Math.sqrt(share * (1 - share) * (1 / 40 + 1 / result.cohorts));
        expect(Math.abs(again.ofOwnCutOff[measure] - share)).toBeLessThan(3.5 * error);
        expect(Math.abs(again.meanWidth[measure] / result.meanWidth[measure] - 1)).toBeLessThan(
          0.2,
        );
      }
    },
  );
});
