// Simulated programmes with known truth. The long study writes tests/coverage/accuracy/programmes.json:
//   COVERAGE_STUDY=long npx vitest run tests/accuracy/programmes.test.ts
import { readFileSync, writeFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import {
  type Programme,
  type ProgrammeResult,
  simulateProgrammes,
} from "../coverage/accuracy/programmes.js";

const long = process.env.COVERAGE_STUDY === "long";
const rounds = 4000;
const file = new URL("../coverage/accuracy/programmes.json", import.meta.url);

// specificity .90, 60 % of referrals come: invented programmes
const base = { sensitivity: 0.8, specificity: 0.9, attendance: 0.6 };
const grid: Programme[] = [20000, 2000].flatMap((children) =>
  [0.8, 0.95].flatMap((sensitivity) =>
    [0.02, 0.05, 0.2].flatMap((prevalence) =>
      [0.05, 0.1, 0.4].map((passesExamined) => ({
        ...base,
        children,
        sensitivity,
        prevalence,
        passesExamined,
      })),
    ),
  ),
);

interface Row extends Programme, ProgrammeResult {
  readonly method: string;
}

const line = (row: Row) =>
  `${row.method}: ${row.children} children, sensitivity ${row.sensitivity}, prevalence ${row.prevalence}, ` +
  `${100 * row.passesExamined} % of passes examined, ${row.missedExamined.toFixed(1)} missed seen: ` +
  `mean ${row.mean.toFixed(4)} (ratio bias ${row.ratioBias.toFixed(4)}, ` +
  `Monte Carlo error ${row.monteCarloError.toFixed(5)}), coverage ${row.coverage.toFixed(3)}`;

if (long) {
  const rows = (["logit", "symmetric"] as const).flatMap((method) =>
    grid.map((programme) => ({
      method,
      ...programme,
      ...simulateProgrammes(programme, rounds, 1, { method, replicates: 400 }),
    })),
  );
  const rounded = (_: string, value: unknown) =>
    typeof value === "number" ? Number(value.toPrecision(6)) : value;
  const text = JSON.stringify({ level: 0.95, rows }, rounded, 1);
  const compact = text.replace(/\{\s+"method"[^{}]*\}/g, (row) => row.replace(/\s+/g, " "));
  writeFileSync(file, `${compact}\n`);
  console.log(rows.map(line).join("\n"));
}

describe("corrected sensitivity on simulated programmes", () => {
  const committed = (JSON.parse(readFileSync(file, "utf8")) as { rows: Row[] }).rows;

  const large = grid.filter(
    ({ children, sensitivity }) => children === 20000 && sensitivity === 0.8,
  );

  it.each(large)(
    "20,000 children, prevalence $prevalence, $passesExamined of passes examined",
    (programme) => {
      const result = simulateProgrammes(programme, rounds, 2);
      console.log(line({ method: "logit", ...programme, ...result }));
      expect(result.estimable).toBe(rounds);
      expect(Math.abs(result.mean - programme.sensitivity)).toBeLessThan(
        2 * result.monteCarloError + result.ratioBias,
      );
      const before = committed.find(
        (row) =>
          row.method === "logit" &&
          row.children === 20000 &&
          row.sensitivity === 0.8 &&
          row.prevalence === programme.prevalence &&
          row.passesExamined === programme.passesExamined,
      );
      // coverage of the committed run, within four Monte Carlo errors of the two
      expect(Math.abs(result.coverage - (before?.coverage ?? 0))).toBeLessThan(
        4 * Math.sqrt((2 * 0.95 * 0.05) / rounds),
      );
    },
  );

  it("the default interval: .94 to .96 from 30 missed cases seen, not below .90 with fewer", () => {
    const logit = committed.filter(({ method }) => method === "logit");
    const many = logit.filter(({ missedExamined }) => missedExamined >= 30);
    expect(many.length).toBeGreaterThan(6);
    for (const { coverage } of many) expect(Math.abs(coverage - 0.95)).toBeLessThan(0.0138); // 4 errors
    expect(Math.min(...logit.map(({ coverage }) => coverage))).toBeGreaterThan(0.9);
  });

  it("the symmetric one is poor with few missed cases: below .87 with fewer than 2 seen", () => {
    const few = committed.filter((row) => row.method === "symmetric" && row.missedExamined < 2);
    expect(few.length).toBeGreaterThan(5);
    for (const { coverage } of few) expect(coverage).toBeLessThan(0.87);
    expect(Math.min(...few.map(({ coverage }) => coverage))).toBeLessThan(0.2);
  });

  it("passes that present themselves, taken as drawn, break the correction", () => {
    const random = { ...base, children: 20000, prevalence: 0.05, passesExamined: 0.1 };
    const drawn = simulateProgrammes(random, 500, 3);
    const selfPresenting = simulateProgrammes({ ...random, selfPresenting: 5 }, 500, 3);
    console.log(
      `a random 10 % of passes: ${drawn.mean.toFixed(3)}; diseased passes five times as often: ` +
        `${selfPresenting.mean.toFixed(3)}, coverage ${selfPresenting.coverage.toFixed(3)}`,
    );
    expect(drawn.mean).toBeCloseTo(0.8, 1);
    // what the estimator then aims at, from the rates it sees
    const missed = 0.05 * 0.2;
    const passed = missed + 0.95 * 0.9;
    const seen = (5 * missed) / (5 * missed + passed - missed);
    expect(Math.abs(selfPresenting.mean - 0.04 / (0.04 + passed * seen))).toBeLessThan(
      2 * selfPresenting.monteCarloError + 0.002,
    );
    expect(selfPresenting.coverage).toBeLessThan(0.01);
  });
});
