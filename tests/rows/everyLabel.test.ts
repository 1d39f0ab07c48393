import { describe, expect, it } from "vitest";
import { type Labels, labelledCalls, rows, sites } from "./labelledCalls.js";

// That every public function with labels is among the calls is in tests/face/publicFace.test.ts.
describe("a row without a label belongs to nobody", () => {
  it.each(Object.entries(labelledCalls))("%s", async (name, call) => {
    const run = async (labels: unknown[]) => call(labels as Labels);
    const isSubject = /subjects|units/.test(name);
    const good = rows.map((row) => (isSubject ? `child ${row}` : `group ${row % 2}`));
    await expect(run(good)).resolves.toBeDefined();
    for (const missing of ["", " ", null, undefined, Number.NaN]) {
      const labels: unknown[] = good.with(5, missing as string);
      await expect(run(labels), String(missing)).rejects.toThrow(/without gaps, got .* in row 5;/);
    }
    await expect(run([...good.slice(0, 10), 1, "1"])).rejects.toThrow("of one spelling, got 1");
  });
});

describe("sites above children are respected, or refused with the cure", () => {
  const cases = Object.entries(labelledCalls).filter(([name]) => /subjects$/.test(name));
  const refused: string[] = [];

  it.each(cases)("%s", async (name, call) => {
    const labels = rows.map((row) => `child ${row}`);
    const without = JSON.stringify(await call(labels));
    sites.ofRows = rows.map((row) => `site ${row % 6}`);
    const found = await Promise.resolve()
      .then(() => call(labels))
      .then(
        (result) => ({ result, message: "" }),
        (error: Error) => ({ result: null, message: error.message }),
      )
      .finally(() => {
        sites.ofRows = null;
      });
    if (found.result === null) {
      refused.push(name.split(" ")[0]);
      expect(found.message).toMatch(/requires .*, got .*(clusters|sites).*; \w+/);
    } else {
      // Counts alone, without an interval, know no sites.
      const counts = !without.includes('"low":') && !without.includes('"p":');
      if (!counts) expect(JSON.stringify(found.result)).not.toBe(without);
    }
  });

  it("these refuse", () => {
    expect([...new Set(refused)].sort()).toEqual([
      "areaUnderCurveOnThreads",
      "bootstrap",
      "compareIndependentAreas",
      "compareSeveralAreas",
      "restrictToExamined",
      "thresholdsByAgeBand",
    ]);
  });
});
