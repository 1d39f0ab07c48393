import { readFile } from "node:fs/promises";
import { parse } from "csv-parse/sync";
import { beforeAll, describe, expect, test } from "vitest";
import {
  eyePairs,
  type Findings,
  linkCohort,
  type Readings,
  readFindings,
  readReadings,
} from "../../src/cohort/index.js";

const cycles = ["1999_2000", "2001_2002", "2003_2004", "2005_2006"];
const fileOf = (cycle: string) => `data/survey/refraction_${cycle}.csv`;
let readings: Readings[];
let findings: Findings[];

beforeAll(async () => {
  const columns = JSON.parse(await readFile("data/survey/columns.json", "utf8"));
  readings = await Promise.all(cycles.map((cycle) => readReadings(fileOf(cycle), { columns })));
  findings = await Promise.all(cycles.map((cycle) => readFindings(fileOf(cycle), { columns })));
});

describe("the survey data, one row a person", () => {
  test("persons: counts of the public files' documentation", () => {
    expect(readings.map(({ subject }) => subject.labels.length)).toEqual([6758, 7445, 6990, 6980]);
    expect(readings.map(({ n }) => n)).toEqual([13516, 14890, 13980, 13960]);
  });

  test("right sphere present", () => {
    const present = readings.map(
      ({ sphere, eye }) =>
        sphere.filter((value, row) => eye.codes[row] === 0 && !Number.isNaN(value)).length,
    );
    expect(present).toEqual([6256, 6845, 6296, 6324]);
  });

  test("7,803 right eyes with spectacles and autorefraction", () => {
    const pairs = cycles.map((_, index) => {
      const cohort = linkCohort({ readings: readings[index], findings: findings[index] });
      return eyePairs(cohort, { eyes: "right" });
    });
    expect(pairs.reduce((sum, { n }) => sum + n, 0)).toBe(7803);
    // own regression value: spectacles minus autorefraction +.130; here test minus reference
    const differences = pairs.flatMap(({ test, reference }) =>
      Array.from(test, (value, row) => value - reference[row]),
    );
    const mean = differences.reduce((sum, value) => sum + value, 0) / differences.length;
    expect(mean).toBeCloseTo(-0.13, 3);
  });

  // Vitale and others 2008, Arch Ophthalmol 126:1111, abstract; the rule is ours (see the README)
  test("12,010 adults with usable refraction in 1999-2004", async () => {
    let adults = 0;
    for (const [index, cycle] of cycles.slice(0, 3).entries()) {
      const { n, sphere, cylinder, eye, subject } = readings[index];
      const usable = new Set<string>();
      for (let row = 0; row < n; row++) {
        if (Number.isNaN(sphere[row] + cylinder[row])) continue;
        usable.add(`${subject.labels[subject.codes[row]]} ${eye.codes[row] + 1}`);
      }
      const rows = parse(await readFile(fileOf(cycle), "utf8"), { columns: true }) as Record<
        string,
        string
      >[];
      for (const row of rows) {
        if (!(Number(row.age_years) >= 20) || ["2", "3", "5"].includes(row.va_comment)) continue;
        const operated = (code: number) =>
          [row.refractive_surgery_eye, row.cataract_surgery_eye].some(
            (which) => which === String(code) || which === "3",
          );
        if ([1, 2].some((code) => usable.has(`${row.seqn} ${code}`) && !operated(code))) adults++;
      }
    }
    expect(adults).toBe(12010);
  });
});
