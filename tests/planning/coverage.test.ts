// What plans promise, by simulation. The long study writes tests/coverage/planning/promises.json:
//   COVERAGE_STUDY=long npx vitest run tests/planning/coverage.test.ts
import { readFileSync, writeFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { type Promised, promises } from "../coverage/planning/promises.js";

const file = new URL("../coverage/planning/promises.json", import.meta.url);

if (process.env.COVERAGE_STUDY === "long") {
  test("long study", { timeout: 1_200_000 }, () => {
    const lines = promises(20_000, 1).map((row) => `  ${JSON.stringify(row)}`);
    writeFileSync(file, `{\n "rows": [\n${lines.join(",\n")}\n ]\n}\n`);
  });
}

const kept: readonly Promised[] = JSON.parse(readFileSync(file, "utf8")).rows;

/** Exact under their assumptions; the others are approximate, with the room they need. */
const room: { readonly [what: string]: number } = {
  "power, area above": 0.02,
  "power, two areas": 0.02,
  "coverage, half-width, wilson": 0.02,
  "coverage, partial verification": 0.015,
  "coverage, half-width of an area": 0.01,
};

function keeps({ name, what, said, found, error }: Promised, errors: number): void {
  const message = `${what}, ${name}: said ${said}, found ${found}`;
  const within = errors * error + (room[`${what}, ${name}`] ?? 0);
  if (what === "mean half-width") {
    // at the expected value the interval is a little wider than on average, or as wide
    expect(found, message).toBeLessThan(said * 1.03);
    expect(found, message).toBeGreaterThan(said * 0.93);
  } else if (name === "half-width, clopper-pearson" && what === "coverage") {
    expect(found, message).toBeGreaterThan(said - within);
  } else {
    expect(Math.abs(found - said), message).toBeLessThan(within);
  }
}

describe("long study, committed", () => {
  test("has every plan", () => {
    expect(new Set(kept.map(({ name }) => name)).size).toBe(12);
    expect(Math.min(...kept.map(({ replicates }) => replicates))).toBe(5000);
  });

  test.each(kept)("$name: $what is what the plan says", (row) => keeps(row, 3.5));
});

test("short form: the same, with fewer studies", () => {
  const rows = promises(800, 77);
  expect(rows.map(({ name, n, said }) => [name, n, said])).toEqual(
    kept.map(({ name, n, said }) => [name, n, expect.closeTo(said, 9)]),
  );
  for (const row of rows) keeps(row, 4);
});
