// Coverage of the intervals of limits of agreement, by simulation. The whole study writes
// tests/coverage/agreement/limits.json:
//   COVERAGE_STUDY=long npm run test:long -- tests/agreement/coverage.long.ts
import { writeFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { allStudies, limitCoverage } from "../coverage/agreement/limits.js";

const file = new URL("../coverage/agreement/limits.json", import.meta.url);

if (process.env.COVERAGE_STUDY === "long") {
  test("whole study", { timeout: 1_200_000 }, () => {
    const rows = allStudies().map((study) =>
      limitCoverage(study, study.interval === "bootstrap" ? 1000 : 8000, 1),
    );
    const lines = rows.map((row) => `  ${JSON.stringify(row)}`);
    writeFileSync(file, `{\n "level": 0.95,\n "rows": [\n${lines.join(",\n")}\n ]\n}\n`);
    expect(rows.length).toBe(96);
  });
}

describe("short form", () => {
  const error = (share: number, replicates: number) =>
    Math.sqrt((share * (1 - share)) / replicates);

  test("exact, each limit, independent normal rows: nominal within three Monte Carlo errors", () => {
    for (const n of [10, 50]) {
      const r = limitCoverage({ n, shape: "normal", eyes: "one", interval: "exact" }, 4000, 21);
      for (const share of [r.bias, r.sd, r.lower, r.upper]) {
        expect(Math.abs(share - 0.95)).toBeLessThan(3.5 * error(0.95, 4000));
      }
      // Two separate intervals cover both limits in 90.6 % (n 50), not in 95 %.
      expect(Math.abs(r.both - 0.906)).toBeLessThan(0.02);
    }
  });

  test("mover with pairs of eyes covers; rows taken as independent do not", () => {
    const study = { n: 50, shape: "normal", eyes: "paired" } as const;
    const mover = limitCoverage({ ...study, interval: "mover" }, 3000, 22);
    const plain = limitCoverage({ ...study, interval: "as-independent" }, 3000, 22);
    expect(Math.abs(mover.limit - 0.95)).toBeLessThan(0.015);
    expect(plain.limit).toBeLessThan(0.93);
  });
});
