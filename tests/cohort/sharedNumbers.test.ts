import { expect, test } from "vitest";
import {
  linkCohort,
  readFindings,
  readReadings,
  suspectedSharedNumbers,
} from "../../src/cohort/index.js";

const eye = (subject: string, ageMonths: number | null, day: number | null) => ({
  subject,
  eye: "OD",
  sphere: -1,
  cylinder: 0,
  axis: 0,
  ageMonths,
  day,
});

test("ages that contradict each other are listed once a child, without the number", async () => {
  const cohort = linkCohort({
    readings: await readReadings([
      eye("older-at-exam", 40, 0),
      eye("same-age-a-year-on", 40, 0),
      eye("two-children", 40, 10),
      eye("two-children", 61, 10),
      eye("two-children", 80, 10),
      eye("no-age", null, 0),
      eye("no-day", 40, null),
    ]),
    findings: await readFindings([
      eye("older-at-exam", 52, 366),
      eye("same-age-a-year-on", 40, 366),
      eye("no-age", 70, 0),
      eye("no-day", 70, 0),
    ]),
  });
  const listed = suspectedSharedNumbers(cohort);
  // rows given as objects have no header line
  expect(listed.map(({ file, row, value }) => [file, row, value])).toEqual([
    ["readings", 4, "ages 21.0 months apart"],
    ["findings", 2, "ages 12.0 months apart"],
  ]);
  expect(JSON.stringify(listed)).not.toContain("two-children");
});
