// Searched rules against known truth. The long study writes tests/coverage/rulespace/ruleSearch.json:
//   COVERAGE_STUDY=long npx vitest run tests/rulespace/searchCoverage.test.ts
import { readFileSync, writeFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { knownTruth, nothingToFind } from "../coverage/rulespace/ruleSearch.js";

const long = process.env.COVERAGE_STUDY === "long";
const file = new URL("../coverage/rulespace/ruleSearch.json", import.meta.url);

describe.runIf(long)("the long study", () => {
  it("is written", { timeout: 600_000 }, async () => {
    const size = { cohorts: 200, children: 2000, newChildren: 1_000_000, folds: 10 };
    const truth = await knownTruth({ ...size, replicates: 50, shuffles: 0 });
    const nothing = await nothingToFind({
      ...size,
      cohorts: 0,
      newChildren: 0,
      replicates: 50,
      shuffles: 400,
    });
    writeFileSync(file, `${JSON.stringify([truth, nothing], null, 1)}\n`);
    expect(truth.truth.sensitivity.mean).toBeGreaterThan(0);
  });
});

type Truth = Awaited<ReturnType<typeof knownTruth>>;
type Nothing = Awaited<ReturnType<typeof nothingToFind>>;

describe.skipIf(long)("searched rules", () => {
  const [truth, nothing] = (long ? [] : JSON.parse(readFileSync(file, "utf8"))) as [Truth, Nothing];

  it("cross-validated rates are those of new children, within .01; apparent ones are too good", () => {
    expect([truth.cohorts, truth.newChildren]).toEqual([200, 1_000_000]);
    const { sensitivity, specificity, youdenIndex } = truth.crossValidatedMinusTruth;
    for (const { mean } of [sensitivity, specificity, youdenIndex]) {
      expect(Math.abs(mean)).toBeLessThan(0.01);
    }
    const apparent = truth.apparentMinusTruth.youdenIndex;
    expect(apparent.mean).toBeGreaterThan(3 * apparent.error);
  });

  it("with nothing to find, only the cross-validated index is 0", () => {
    const { crossValidated, apparent, corrected } = nothing;
    expect(Math.abs(crossValidated.mean)).toBeLessThan(2 * crossValidated.error);
    expect(apparent.mean).toBeGreaterThan(10 * apparent.error);
    expect(corrected.mean).toBeGreaterThan(2 * corrected.error);
  });

  it("come out again, short", { timeout: 60_000 }, async () => {
    const size = {
      cohorts: 12,
      children: 2000,
      newChildren: 50_000,
      folds: 5,
      replicates: 10,
      shuffles: 0,
    };
    const again = await knownTruth(size);
    const own = again.crossValidatedMinusTruth.youdenIndex;
    const saved = truth.crossValidatedMinusTruth.youdenIndex;
    // three Monte Carlo errors of the difference
    expect(Math.abs(own.mean - saved.mean)).toBeLessThan(3 * Math.hypot(own.error, saved.error));
    expect(again.truth.sensitivity.mean).toBeGreaterThan(0.3);
  });
});
