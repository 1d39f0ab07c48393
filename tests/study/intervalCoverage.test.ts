import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { coverageSeen, coverageSentence } from "../../src/study/report/intervalCoverage.js";
import type { GridRow } from "../coverage/grid/table.js";

const { rows } = JSON.parse(
  readFileSync(new URL("../coverage/grid/grid.json", import.meta.url), "utf8"),
) as { rows: GridRow[] };

/** The same by a walk over the cells themselves. */
function byHand(start: string, shapes: readonly string[], children: number, eyes: 1 | 2) {
  const found = rows
    .filter((row) => row.kind === "all" && row.interval.startsWith(start) && row.sites === 0)
    .filter((row) => row.form === "level" && row.step === 0.25 && row.eyes === eyes)
    .filter((row) => shapes.includes(row.shape) && row.children === children)
    .map((row) => row.covered!);
  return { least: Math.min(...found), most: Math.max(...found) };
}
const heavy = ["skewed", "heavy", "gross"];

test("the numbers are those of the grid, at the largest number of children reached", () => {
  const seen = { skewness: 2, excessKurtosis: 9, children: 538, eyesOfChild: "one eye" } as const;
  const found = coverageSeen("normal", seen)!;
  const wanted = byHand("limit, normal", heavy, 500, 1);
  expect(found.least).toBeCloseTo(wanted.least, 3);
  expect(found.most).toBeCloseTo(wanted.most, 3);
  const near = coverageSeen("normal", { ...seen, skewness: 0.1, excessKurtosis: -0.2 })!;
  expect(near.least).toBeCloseTo(byHand("limit, normal", ["normal"], 500, 1).least, 3);
  const both = coverageSeen("bias", { ...seen, children: 199, eyesOfChild: "two eyes" })!;
  expect(both.least).toBeCloseTo(byHand("bias", heavy, 100, 2).least, 3);
});

test("fewer children than were ever simulated: nothing is said", () => {
  const seen = { skewness: 0, excessKurtosis: 0, children: 12, eyesOfChild: "one eye" } as const;
  expect(coverageSeen("bias", seen)).toBeNull();
  expect(coverageSentence(["bias", "normal"], seen)).toBe("");
});

test("without a shape or a number it speaks of all of them", () => {
  const all = coverageSeen("normal", {})!;
  expect(all.least).toBeLessThanOrEqual(byHand("limit, normal", heavy, 200, 1).least + 5e-4);
  expect(coverageSentence(["normal"], {})).toMatch(
    /^How often 95 % intervals held in simulated studies like this one \(of every shape\): of limits if normal \d\d to \d\d in 100 \(too seldom\)\.$/,
  );
});
