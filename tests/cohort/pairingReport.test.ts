import { expect, test } from "vitest";
import {
  linkCohort,
  pairingReport,
  pairingTable,
  readFindings,
  readReadings,
} from "../../src/cohort/index.js";

const eye = (subject: string, side: string, day: number | null) => ({
  subject,
  eye: side,
  sphere: -1,
  cylinder: 0,
  axis: 0,
  day,
});

const cohort = async () =>
  linkCohort({
    readings: await readReadings([
      eye("a", "OD", 10),
      eye("a", "OS", 10),
      eye("b", "OD", 10),
      eye("c", "OD", 10),
      eye("d", "OS", 10),
      eye("e", "OD", 10),
      eye("f", "OD", null),
    ]),
    findings: await readFindings([
      eye("a", "OD", 13),
      eye("a", "OS", 50),
      eye("b", "OD", 5),
      eye("d", "OS", 20),
      eye("d", "OS", 90),
      eye("e", "OD", 30),
      eye("f", "OD", 30),
      eye("g", "OD", 30),
    ]),
  });

test("counts by hand: no, one, several findings; delays -5, 3, 10, 20", async () => {
  const report = pairingReport(await cohort());
  expect(report).toMatchObject({
    children: 7,
    findings: { none: 1, one: 5, several: 1 },
    linked: 5,
    negativeInterval: 1,
    dayMissing: 1,
  });
  // numpy.percentile([-5, 3, 10, 20], [25, 50, 75]), linear: 1, 6.5, 12.5
  expect(report.delay).toEqual({
    kind: "delay",
    n: 4,
    lowest: -5,
    firstQuartile: 1,
    median: 6.5,
    thirdQuartile: 12.5,
    highest: 20,
  });
  expect(pairingTable(report).rows.map(({ cells }) => cells[1])).toEqual([
    7, 1, 5, 1, 5, 1, 1, -5, 1, 6.5, 12.5, 20,
  ]);
});

test("without days the delay is undefined with its reason, in the table too", async () => {
  const one = [eye("a", "OD", null)];
  const linked = linkCohort({
    readings: await readReadings(one),
    findings: await readFindings(one),
  });
  const report = pairingReport(linked);
  expect(report.delay.kind).toBe("undefined");
  expect(report.dayMissing).toBe(1);
  expect(pairingTable(report).rows.at(-1)?.cells[1]).toBe(report.delay);
});
