// Coverage of the intervals of an area. The long study writes tests/coverage/thresholds/areas.json:
//   COVERAGE_STUDY=long npx vitest run tests/thresholds/coverage.test.ts
import { readFileSync, writeFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import {
  type AreaStudyResult,
  allAreaStudies,
  areaCoverage,
  steppedArea,
} from "../coverage/thresholds/areas.js";

const long = process.env.COVERAGE_STUDY === "long";
const file = new URL("../coverage/thresholds/areas.json", import.meta.url);

describe.runIf(long)("the long study", () => {
  it("is written", { timeout: 1_200_000 }, () => {
    const results = allAreaStudies().map((study, at) =>
      areaCoverage(study, study.method === "bootstrap" ? 600 : 2000, 5000 + at),
    );
    writeFileSync(file, `[\n${results.map((result) => JSON.stringify(result)).join(",\n")}\n]\n`);
    expect(results.length).toBeGreaterThan(80);
  });
});

describe.skipIf(long)("coverage of area intervals", () => {
  const saved: AreaStudyResult[] = long ? [] : JSON.parse(readFileSync(file, "utf8"));
  const of = (method: string, eyes: string) =>
    saved.filter((result) => result.method === method && result.eyes === eyes);
  const mean = (results: readonly AreaStudyResult[]) =>
    results.reduce((sum, { coverage }) => sum + coverage, 0) / results.length;

  it("approximate methods lie at .94 to .96 on the mean of the grid, on the logit scale", () => {
    expect(mean(of("delong-logit-t", "one"))).toBeGreaterThan(0.94);
    expect(mean(of("delong-logit-t", "one"))).toBeLessThan(0.96);
    expect(mean(of("delong-logit-t", "paired"))).toBeGreaterThan(0.93);
    // the worst cell, as the room's README publishes it: area .98, 20 rows with, 200 without
    const worst = of("delong-logit-t", "one").toSorted((a, b) => a.coverage - b.coverage)[0];
    expect(worst).toMatchObject({ area: 0.98, cases: 20, controls: 200, coverage: 0.899 });
  });

  it("the symmetric interval fails where areas are high and cases few; logit does not", () => {
    const hard = (method: string) =>
      of(method, "one").find(({ area, cases }) => area === 0.98 && cases === 10)!;
    expect(hard("delong-plain").coverage).toBeLessThan(0.9);
    expect(hard("delong-logit-t").coverage).toBeGreaterThan(0.93);
    expect(hard("delong-logit-t").separated).toBeGreaterThan(0.1);
  });

  it("two eyes taken as independent cover too little", () => {
    expect(mean(of("as-independent", "paired"))).toBeLessThan(
      mean(of("delong-logit-t", "paired")) - 0.03,
    );
  });

  it("a cell of the saved study comes out again, short", () => {
    for (const result of [of("delong-logit-t", "one")[5], of("delong-logit-t", "paired")[4]]) {
      const again = areaCoverage(result, 400, 99);
      // both with their own Monte Carlo error: three of the difference
      const error = Math.sqrt(0.95 * 0.05 * (1 / 400 + 1 / result.replicates));
      expect(Math.abs(again.coverage - result.coverage)).toBeLessThan(3.5 * error);
      expect(again.truth).toBe(result.truth);
    }
  });

  it("the truth on a grid: fine steps give the area of the distributions", () => {
    expect(steppedArea(1.5, 1e-3)).toBeCloseTo(0.855578, 5);
  });
});
