import { expect, test } from "vitest";
import { type Problem, readFindings, readReadings } from "../../src/cohort/index.js";

const columns = {
  kind: "columns",
  version: 1,
  age: "decimal-years",
  text: { delimiter: ";", decimal: "," },
  missing: ["888", "keine"],
  eyes: { right: ["1"], left: ["2"] },
  columns: { subject: "Kind", eye: "Auge", age: "Alter", site: "Ort", day: "Tag" },
  readings: [
    {
      instrument: "own label",
      cylinder: "minus",
      correction: { codes: { ja: "glasses", nein: "none" } },
      cycloplegia: "none",
      status: { codes: { ok: "measured", abgebrochen: "unreadable" } },
      marks: { zuviel: "over-range", zuwenig: "under-range" },
      whenEmpty: "unreadable",
      range: [-7.5, 7.5],
      confidenceScale: [1, 10],
      columns: {
        sphere: "Kugel",
        cylinder: "Zyl",
        axis: "Achse",
        status: "Zustand",
        correction: "Brille",
        confidenceScore: "Güte",
        repeat: "Nr",
      },
    },
  ],
};
const header = "Kind;Auge;Alter;Ort;Tag;Kugel;Zyl;Achse;Zustand;Brille;Güte;Nr";
const lines = [
  "a;1;5,5;x;3;-1,25;-0,50;180;ok;nein;9;1",
  "a;2;5,5;x;3;zuviel;;;ok;nein;;1",
  "b;1;6;y;4;+7,50;-1,00;10;ok;ja;8;1",
  "b;2;6;y;4;-8,00;-1,00;10;ok;ja;8;1",
  "c;1;4,25;x;888;888;888;888;;nein;888;1",
  "c;2;4,25;x;5;1,00;-0,25;5;abgebrochen;nein;11;1",
  "d;1;7;x;5;1,00;+0,25;5;ok;vielleicht;5;1,5",
  "d;2;7;keine;5;zuwenig;;;;nein;5;2",
];

test("a long file under its own names: marks, range, status words, codes, decimal commas", async () => {
  const readings = await readReadings({ text: `${[header, ...lines].join("\n")}\n` }, { columns });
  const { status, correction, eye, ageMonths, day } = readings;
  expect([...status.codes].map((code) => status.labels[code])).toEqual([
    "measured",
    "over-range",
    "over-range",
    "under-range",
    "unreadable",
    "unreadable",
    "measured",
    "under-range",
  ]);
  expect([...readings.sphere]).toEqual([-1.25, ...new Array(5).fill(Number.NaN), 1, Number.NaN]);
  expect([...eye.codes]).toEqual([0, 1, 0, 1, 0, 1, 0, 1]);
  expect([...correction.codes].map((code) => correction.labels[code])).toEqual([
    "none",
    "none",
    "glasses",
    "glasses",
    "none",
    "none",
    "unknown",
    "none",
  ]);
  // completed months of 5.5, 6, 4.25 and 7 years
  expect([...(ageMonths ?? [])]).toEqual([66, 66, 72, 72, 51, 51, 84, 84]);
  expect([...(day ?? [])]).toEqual([3, 3, 4, 4, Number.NaN, 5, 5, 5]);
  expect(listed(readings.problems)).toEqual([
    "4 Kugel +7,50 range-end altered",
    "5 Kugel -8,00 range-end altered",
    "7 Güte 11 value-range set-aside",
    "7 Kugel 1 status-contradiction set-aside",
    "8 Brille vielleicht word-unknown set-aside",
    "8 Nr 1,5 not-whole altered",
    "8 Zyl +0,25 cylinder-sign set-aside",
  ]);
});

test("without a declared range a reading stays measured, whatever its size", async () => {
  const [{ range: _, ...block }] = columns.readings;
  const readings = await readReadings(
    { text: `${[header, lines[2]].join("\n")}\n` },
    { columns: { ...columns, readings: [block] } },
  );
  expect([...readings.sphere]).toEqual([7.5]);
  expect(readings.problems).toEqual([]);
});

// Clinic notation as the refraction room's own tests take it; DS and plano are common practice.
test("prescriptions as one text cell, beside marks and text that is none", async () => {
  const rows = [
    { id: "a", eye: "OD", rx: "-1.25 -0.50 x 180" },
    { id: "a", eye: "OS", rx: "+2.00 DS" },
    { id: "b", eye: "OD", rx: "hardly" },
    { id: "b", eye: "OS", rx: "too far" },
    { id: "c", eye: "OD", rx: "" },
  ];
  const mapping = {
    kind: "columns",
    version: 1,
    columns: { subject: "id", eye: "eye" },
    findings: [{ marks: { "too far": "over-range" }, columns: { prescription: "rx" } }],
  };
  const { sphere, cylinder, axis, status, rawText, problems } = await readFindings(rows, {
    columns: mapping,
  });
  expect([...sphere]).toEqual([-1.25, 2, Number.NaN, Number.NaN, Number.NaN]);
  expect([...cylinder]).toEqual([-0.5, 0, Number.NaN, Number.NaN, Number.NaN]);
  expect(axis[0]).toBe(180);
  expect([...status.codes].map((code) => status.labels[code])).toEqual([
    "measured",
    "measured",
    "measured",
    "over-range",
    "not-attempted",
  ]);
  expect(rawText?.sphere[0]).toBe("-1.25 -0.50 x 180");
  expect(listed(problems)).toEqual(["3 rx hardly prescription-unclear set-aside"]);
});

test("a subject whose ages contradict each other is listed, and kept", async () => {
  const row = (subject: string, day: number, ageMonths: number) => {
    return { subject, eye: "OD", day, ageMonths, sphere: 0, cylinder: 0, axis: "" };
  };
  const rows = [
    row("grows", 0, 40),
    row("grows", 400, 53),
    row("shrinks", 0, 40),
    row("shrinks", 400, 38),
    row("jumps", 0, 40),
    row("jumps", 10, 60),
  ];
  const readings = await readReadings(rows);
  expect(listed(readings.problems)).toEqual([
    "4 null 38 age-contradicts kept",
    "6 null 60 age-contradicts kept",
  ]);
  expect([...(readings.ageMonths ?? [])]).toEqual([40, 53, 40, 38, 40, 60]);
});

test("a heap of endings is listed once for the file; an even spread is not", async () => {
  const rows = (sphere: (k: number) => number) =>
    Array.from({ length: 400 }, (_, k) => {
      return { subject: `s${k}`, eye: "OD", sphere: sphere(k), cylinder: 0, axis: "" };
    });
  const rulesOf = async (sphere: (k: number) => number) =>
    listed((await readReadings(rows(sphere))).problems);
  expect(await rulesOf((k) => (k % 16) / 4)).toEqual([]);
  expect(await rulesOf((k) => (k % 300) / 100)).toEqual([]);
  // 300 of 400 whole dioptres: three quarters, where a quarter is to be expected
  expect(await rulesOf((k) => (k % 4 === 0 ? 1.25 : k % 5))).toEqual([
    "null null .00 in 300 of 400 spheres heaping kept",
  ]);
});

function listed(problems: readonly Problem[]): string[] {
  return problems
    .map(({ row, column, value, rule, action }) => `${row} ${column} ${value} ${rule} ${action}`)
    .sort();
}
