import { readFile } from "node:fs/promises";
import { expect, test } from "vitest";
import {
  linkCohort,
  type Readings,
  readFindings,
  readReadings,
  suspectedMismatches,
} from "../../src/cohort/index.js";

test("sound data are not suspected; exchanged eyes and turned axes are, each by its own rule", async () => {
  const columns = JSON.parse(await readFile("data/children/columns.json", "utf8"));
  const readings = await readReadings("data/children/children.csv", { columns });
  const findings = await readFindings("data/children/children.csv", { columns });
  const rulesOf = (changed: Readings) =>
    suspectedMismatches(
      linkCohort({ readings: changed, findings, instrument: "table", cycloplegia: "none" }),
    ).map(({ rule }) => rule);
  expect(rulesOf(readings)).toEqual([]);
  const codes = readings.eye.codes.map((code) => 1 - code);
  expect(rulesOf({ ...readings, eye: { ...readings.eye, codes } })).toEqual(["eyes-swapped"]);
  const axis = readings.axis.map((degrees) => (degrees + 90) % 180);
  expect(rulesOf({ ...readings, axis })).toEqual(["cylinder-convention"]);
});
