// The children of a linked cohort, by hand: who was asked, who came, days, attempts, groups.
import { readFile } from "node:fs/promises";
import { expect, it } from "vitest";
import { linkCohort, readFindings, readReadings } from "../../src/cohort/index.js";
import { describeProgramme } from "../../src/programme/index.js";
import { defineProtocol } from "../../src/protocol/index.js";
import { programmeColumns } from "../../src/study/index.js";

const json = JSON.parse(await readFile("data/demo/protocol.json", "utf8"));
const limit = (at: number) => ({ quantity: "M", relation: ">=", limit: at });
const protocol = defineProtocol({
  ...json,
  eligibility: {},
  indexTest: { ...json.indexTest, instrument: "instrument", correction: undefined },
  conditions: [{ ...json.conditions[0], target: limit(4), referWhen: limit(2.5) }],
  subgroups: [{ by: "age", edgesYears: [5] }],
  programme: { referWhen: limit(2), describeBy: ["school year"], withinDays: 30 },
});

const columns = {
  kind: "columns",
  version: 1,
  age: "months",
  columns: { subject: "child", site: "school", age: "months", eye: "eye", day: "day" },
  readings: [
    {
      programmeDecision: { codes: { R: "refer", P: "pass", U: "unable" } },
      invited: { codes: { y: "yes", n: "no" } },
      came: { codes: { y: "yes", n: "no" } },
      attempt: { codes: { first: "first", final: "final" } },
      marks: { none: "unreadable" },
      flags: { "school year": "year" },
      columns: {
        sphere: "sphere",
        cylinder: "cylinder",
        axis: "axis",
        programmeDecision: "decided",
        invited: "asked",
        came: "came",
        attempt: "attempt",
      },
    },
  ],
  findings: [{ columns: { sphere: "sphere", cylinder: "cylinder", axis: "axis" } }],
};

const noCylinder = { cylinder: 0, axis: 0 };

/** Both eyes of a child at one attempt. */
const reading = (child: string, sphere: number | string, more: object = {}) =>
  ["OD", "OS"].map((eye) => ({
    child,
    school: "north",
    months: 50,
    day: 10,
    eye,
    sphere,
    ...(sphere === "none" ? {} : noCylinder),
    attempt: "first",
    year: "2024/25",
    ...more,
  }));
const exam = (child: string, sphere: number, day: number) =>
  ["OD", "OS"].map((eye) => ({
    child,
    school: "north",
    months: 50,
    day,
    eye,
    sphere,
    ...noCylinder,
  }));

const readings = await readReadings(
  [
    ...reading("a", 3, { decided: "R", asked: "y", came: "y" }),
    ...reading("b", 3, { decided: "R", asked: "y", came: "n", school: "south" }),
    ...reading("c", 0, { decided: "P", asked: "y", came: "y", months: 70 }),
    ...reading("d", "none", { decided: "U", asked: "y", came: "y" }),
    ...reading("d", "none", { decided: "U", asked: "y", came: "y", attempt: "final" }),
    // the declared rule refers from 2 D
    ...reading("e", 2.25, { decided: "P", asked: "n", came: "n", year: "2025/26" }),
    ...reading("f", "none", { decided: "P", asked: "n", came: "n" }),
    ...reading("f", 1, { decided: "P", asked: "n", came: "n", attempt: "final" }),
  ],
  { columns },
);
const findings = await readFindings(
  [...exam("a", 5, 30), ...exam("c", 1, 60), ...exam("d", 4, 50), ...exam("only", 4, 50)],
  { columns },
);
const cohort = linkCohort({ readings, findings, repeats: "last" });

it("says of each child what the files say", () => {
  const { by, ...found } = programmeColumns(cohort, protocol);
  const names = cohort.children.subject;
  // who is in the exam file alone is no child of the programme
  expect(names).toEqual(["a", "b", "c", "d", "e", "f", "only"]);
  expect(found).toMatchObject({
    decision: ["refer", "refer", "pass", "unable", "pass", "pass"],
    condition: [true, null, false, true, null, null],
    reason: ["referred", "not-examined", "sampled", "referred", "not-examined", "not-examined"],
    invited: [true, true, true, true, false, false],
    came: [true, false, true, true, false, false],
    daysToExam: [20, Number.NaN, 50, 40, Number.NaN, Number.NaN],
    attempts: [1, 1, 1, 2, 1, 2],
    readAtFirst: [true, true, true, false, true, false],
    declared: ["refer", "refer", "pass", "unable", "refer", "pass"],
  });
  expect(by).toEqual({
    site: ["north", "south", "north", "north", "north", "north"],
    age: [
      "below 5 years",
      "below 5 years",
      "5 years and older",
      "below 5 years",
      "below 5 years",
      "below 5 years",
    ],
    "school year": ["2024/25", "2024/25", "2024/25", "2024/25", "2025/26", "2024/25"],
  });
});

it("is described by them", () => {
  const { overall, groupings } = describeProgramme(programmeColumns(cohort, protocol), {
    withinDays: 30,
    replicates: 20,
  });
  expect(overall.counts).toMatchObject({ screened: 6, rescreened: 2, unableAtFirst: 2, unable: 1 });
  expect(overall.counts).toMatchObject({ referred: 3, came: 2, found: 2, departures: 1 });
  expect(overall.counts).toMatchObject({ daysKnown: 2, withinDays: 1, passedAgainst: 1 });
  expect(groupings.map(({ by }) => by)).toEqual(["site", "age", "school year"]);
});

it("names a column that is not there, and the cure", () => {
  const other = { ...protocol, programme: { describeBy: ["sex"] } };
  expect(() => programmeColumns(cohort, other)).toThrow(
    'the protocol requires the flag "sex" of programme.describeBy in the readings, got school year; name it under flags in a readings block of the mapping',
  );
  expect(() => programmeColumns(cohort, protocol, "myopia")).toThrow(
    'programmeColumns requires one of the conditions hyperopia-4, got "myopia"',
  );
});
