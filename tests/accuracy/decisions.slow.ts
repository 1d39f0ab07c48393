// Simulated programmes with a recorded decision and another rule studied. The long study writes
// tests/coverage/accuracy/decisions.json:
//   COVERAGE_STUDY=long npx vitest run --config vitest.slow.config.ts tests/accuracy/decisions.slow.ts
import { readFileSync, writeFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import {
  type Design,
  type DesignResult,
  designs,
  simulateDecisions,
} from "../coverage/accuracy/decisions.js";

const file = new URL("../coverage/accuracy/decisions.json", import.meta.url);
const rounds = 1000;
const draws = 400;
/** Designs whose coverage may be below .91 are run again, with a Monte Carlo error of .004. */
const roundsAgain = 6000;
type Row = Design & DesignResult;

if (process.env.COVERAGE_STUDY === "long") {
  const rows = designs.map((design) => ({
    ...design,
    ...simulateDecisions(design, rounds, 1, draws),
  }));
  const again = rows
    .filter(({ coverage }) => Math.min(...Object.values(coverage)) < 0.92)
    .map(({ children, drawn, prevalence, sensitivity, rule }) => {
      const design: Design = { children, drawn, prevalence, sensitivity, rule };
      return {
        ...design,
        rounds: roundsAgain,
        ...simulateDecisions(design, roundsAgain, 2, draws),
      };
    });
  const rounded = (_: string, value: unknown) =>
    typeof value === "number" ? Number(value.toPrecision(5)) : value;
  const lines = (list: readonly object[]) =>
    list.map((row) => `  ${JSON.stringify(row, rounded)}`).join(",\n");
  writeFileSync(
    file,
    `{\n "level": 0.95,\n "rounds": ${rounds},\n "rows": [\n${lines(rows)}\n ],\n "again": [\n${lines(again)}\n ]\n}\n`,
  );
}

const { rows: committed, again } = JSON.parse(readFileSync(file, "utf8")) as {
  rows: Row[];
  again: Row[];
};

describe("the interval by draws, over designs", () => {
  it("the committed grid: .92 or more, from 2 to 1,650 examined passes", () => {
    expect(committed.length).toBe(designs.length);
    const passes = committed.map(({ passesExamined }) => passesExamined);
    expect(Math.min(...passes)).toBeLessThan(2.5);
    expect(Math.max(...passes)).toBeGreaterThan(1500);
    const least = ({ coverage }: Row) => Math.min(...Object.values(coverage));
    const low = committed.filter((row) => least(row) < 0.92);
    expect(again.map(({ children, drawn }) => [children, drawn])).toEqual(
      low.map(({ children, drawn }) => [children, drawn]),
    );
    expect(low.length).toBe(0);
    // a crossing rule, about 2.3 missed cases drawn: once .915 and .905
    const crossing = committed.filter(
      ({ rule, drawnMisses }) => rule === "crossing" && drawnMisses > 2 && drawnMisses < 2.6,
    );
    expect(crossing.length).toBe(2);
    for (const { coverage } of crossing) expect(coverage.sensitivity).toBeGreaterThan(0.95);
  });

  // two Monte Carlo errors plus the ratio bias; where a point is always given
  it("the committed grid: values lie at the truth, for rules equal, stricter, looser, crossing", () => {
    const always = committed.filter(({ points }) => points === rounds);
    for (const rule of ["equal", "stricter", "looser", "crossing"]) {
      expect(always.filter((row) => row.rule === rule).length).toBeGreaterThan(1);
    }
    for (const { mean, error, truth, ratioBias, prevalence } of always) {
      expect(Math.abs(mean.sensitivity - truth.sensitivity)).toBeLessThan(
        2 * error.sensitivity + ratioBias,
      );
      expect(Math.abs(mean.specificity - truth.specificity)).toBeLessThan(2 * error.specificity);
      expect(Math.abs(mean.prevalence - prevalence)).toBeLessThan(2 * error.prevalence);
    }
  });

  const chosen = designs.filter(
    ({ children, drawn, prevalence, sensitivity }) =>
      children === 2000 && drawn === 0.05 && prevalence === 0.2 && sensitivity === 0.8,
  );
  it.each(chosen)("again, in short: $rule", (design) => {
    const found = simulateDecisions(design, 300, 7, 400);
    const before = committed.find(
      (row) =>
        row.rule === design.rule &&
        row.children === 2000 &&
        row.drawn === 0.05 &&
        row.prevalence === 0.2 &&
        row.sensitivity === 0.8,
    )!;
    // four Monte Carlo errors of the two runs
    for (const name of ["sensitivity", "specificity"] as const) {
      expect(Math.abs(found.coverage[name] - before.coverage[name])).toBeLessThan(
        4 * Math.sqrt(0.95 * 0.05 * (1 / 300 + 1 / rounds)),
      );
    }
  });
});
