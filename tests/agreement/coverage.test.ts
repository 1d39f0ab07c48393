// Coverage of the intervals of limits of agreement, as found by the study of coverage.long.ts.
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import type { StudyResult } from "../coverage/agreement/limits.js";

const file = new URL("../coverage/agreement/limits.json", import.meta.url);

describe("the committed study", () => {
  const rows: StudyResult[] = JSON.parse(readFileSync(file, "utf8")).rows;
  const of = (part: Partial<StudyResult>) =>
    rows.filter((row) =>
      Object.entries(part).every(([key, value]) => row[key as keyof StudyResult] === value),
    );

  test("has every cell", () => {
    expect(rows.length).toBe(96);
  });

  test("exact is exact under its assumptions, at every n (four Monte Carlo errors of one limit)", () => {
    for (const row of of({ interval: "exact", shape: "normal" })) {
      expect(Math.abs(row.limit - 0.95), `n ${row.n}`).toBeLessThan(0.0098);
    }
  });

  test("mover holds .94 to .965 for normal pairs of eyes from 20 children on, more at 10", () => {
    for (const row of of({ interval: "mover", shape: "normal" })) {
      expect(row.limit, `n ${row.n}`).toBeGreaterThan(0.94);
      expect(row.limit, `n ${row.n}`).toBeLessThan(row.n === 10 ? 0.98 : 0.965);
    }
  });

  test("outside its assumptions the exact interval fails, and more rows do not help", () => {
    const [small] = of({ interval: "exact", shape: "t4", n: 10 });
    const [large] = of({ interval: "exact", shape: "t4", n: 200 });
    expect(large.limit).toBeLessThan(0.9);
    expect(large.limit).toBeLessThan(small.limit);
  });
});
