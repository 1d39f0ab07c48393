import { readFileSync } from "node:fs";
import { expect, it } from "vitest";

// What `npm run equality` found last, and what the README says of it.
const { cohorts, engines } = JSON.parse(readFileSync("tests/page/equality.json", "utf8"));

it("every engine gives the same integers, texts and decisions, and numbers within 1e-12", () => {
  expect(cohorts).toBe(50);
  expect(engines.length).toBe(4);
  for (const { engine, others, studies } of engines) {
    expect(others, engine).toEqual([]);
    const sums = Object.values<{ numbers: number; most: number }>(studies);
    expect(sums.length).toBe(4);
    for (const { numbers, most } of sums) {
      expect(numbers).toBeGreaterThan(6000);
      expect(most).toBeLessThanOrEqual(1e-12);
    }
  }
});

it("the README has these numbers", () => {
  const readme = readFileSync("src/page/README.md", "utf8");
  const words = (number: number) => number.toLocaleString("en-US");
  for (const { engine, studies } of engines) {
    expect(readme).toContain(` ${engine} |`);
    for (const { numbers, differ, most } of Object.values<{
      numbers: number;
      differ: number;
      most: number;
    }>(studies)) {
      expect(readme).toContain(`| ${words(numbers)} |`);
      const cell = differ === 0 ? "0" : `${words(differ)}, ${most.toExponential(0)}`;
      expect(readme).toContain(`| ${cell} |`);
    }
  }
});
