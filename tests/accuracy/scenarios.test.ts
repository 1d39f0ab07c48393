// The truth of the simulator, scenario by scenario, for rules equal to the programme's own, stricter,
// looser and crossing it. The long study writes tests/coverage/accuracy/scenarios.json:
//   COVERAGE_STUDY=long npx vitest run tests/accuracy/scenarios.test.ts
import { readFileSync, writeFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { type ScenarioRow, scenarios, simulateScenario } from "../coverage/accuracy/scenarios.js";

const file = new URL("../coverage/accuracy/scenarios.json", import.meta.url);
const size = { rounds: 24, children: 5000, seed: 2100 };
const names = Object.keys(scenarios) as (keyof typeof scenarios)[];

if (process.env.COVERAGE_STUDY === "long") {
  const rows = [];
  for (const [at, name] of names.entries()) {
    rows.push(...(await simulateScenario(name, { ...size, seed: size.seed + 100 * at })));
  }
  const rounded = (_: string, value: unknown) =>
    typeof value === "number" ? Number(value.toPrecision(4)) : value;
  const lines = rows.map((row) => `  ${JSON.stringify(row, rounded)}`);
  writeFileSync(
    file,
    `{\n "size": ${JSON.stringify(size)},\n "rows": [\n${lines.join(",\n")}\n ]\n}\n`,
  );
}

const { rows } = JSON.parse(readFileSync(file, "utf8")) as { rows: ScenarioRow[] };

/** Distances from the truth in Monte Carlo errors, the ratio bias of sensitivity taken off. */
const distances = ({ off, error, ratioBias }: ScenarioRow) => [
  Math.max(0, Math.abs(off.sensitivity) - ratioBias) / Math.max(error.sensitivity, 1e-12),
  Math.abs(off.specificity) / Math.max(error.specificity, 1e-12),
  Math.abs(off.prevalence) / Math.max(error.prevalence, 1e-12),
];

describe("the truth of the simulator, committed", () => {
  const holding = rows.filter(({ scenario }) => scenarios[scenario].holds);
  const sampled = holding.filter(({ scenario }) => scenario !== "everybody examined");

  it("is there for each scenario and rule", () => {
    expect(rows.length).toBe(4 * names.length);
  });

  // of so many comparisons one in twenty lies beyond two errors by chance
  it("is met where examination depends on the decision, the site and the draw", () => {
    for (const { points } of sampled) expect(points).toBeGreaterThan(size.rounds / 2);
    const all = sampled.flatMap(distances);
    expect(all.filter((distance) => distance <= 2).length / all.length).toBeGreaterThan(0.85);
    expect(Math.max(...all)).toBeLessThan(4);
  });

  it("is met to the last digit where everybody was examined", () => {
    for (const { off, scenario } of holding) {
      if (scenario !== "everybody examined") continue;
      for (const value of Object.values(off)) expect(Math.abs(value)).toBeLessThan(1e-9);
    }
  });

  it("is not guessed where no pass was examined", () => {
    for (const row of rows) if (row.scenario === "no pass examined") expect(row.points).toBe(0);
  });

  it("is missed where the referred come by their condition: nothing in the data can tell", () => {
    const biased = rows.filter(({ scenario }) => scenario === "referred come by their condition");
    const equal = biased.find(({ rule }) => rule === "equal")!;
    expect(equal.off.sensitivity).toBeGreaterThan(4 * equal.error.sensitivity);
  });
});

it("again, in short", async () => {
  const [equal] = await simulateScenario("random passes", { rounds: 2, children: 1500, seed: 9 });
  expect(equal.points).toBeLessThanOrEqual(2);
  const [blind] = await simulateScenario("no pass examined", { rounds: 1, children: 500, seed: 9 });
  expect(blind.points).toBe(0);
});
