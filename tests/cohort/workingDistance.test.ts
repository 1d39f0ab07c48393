import { expect, test } from "vitest";
import { auditFile, defineColumns, readFindings } from "../../src/cohort/index.js";

const mapping = (block: object) => ({
  kind: "columns",
  version: 1,
  columns: { subject: "child", eye: "eye" },
  findings: [{ removeWorkingDistanceMm: 500, ...block }],
});
const columns = mapping({
  method: { codes: { streak: "retinoscopy", choice: "subjective" } },
  columns: { sphere: "S", cylinder: "C", axis: "A", method: "how" },
});
const rows = [
  { child: "a", eye: "OD", S: "+3.50", C: "-1.00", A: 90, how: "streak" },
  { child: "a", eye: "OS", S: "+1.25", C: "-0.50", A: 80, how: "choice" },
  { child: "b", eye: "OD", S: "", C: "", A: "", how: "streak" },
  { child: "b", eye: "OS", S: "+0.75", C: "0", A: "", how: "" },
];

// At 500 mm the reflex is neutral at a vergence of -1 / 0.5 m = -2 D: 2 D are to be taken off
// (common practice, no source).
test("2 D come off spheres of retinoscopy at 500 mm, and off no other method's", async () => {
  const findings = await readFindings(rows, { columns });
  expect([...findings.sphere]).toEqual([1.5, 1.25, Number.NaN, 0.75]);
  expect([...findings.cylinder]).toEqual([-1, -0.5, Number.NaN, 0]);
  expect(findings.rawText?.sphere[0]).toBe("+3.50");
  expect(findings.problems).toHaveLength(1);
  expect(findings.problems[0]).toMatchObject({
    row: 1,
    column: "S",
    value: "+3.50",
    rule: "working-distance-removed",
    action: "altered",
  });
});

test("both eyes in one row: each under its own column, 2/3 m takes off 1.5 D", async () => {
  const side = (eye: string) => ({ sphere: `${eye}S`, cylinder: `${eye}C`, axis: `${eye}A` });
  const wide = mapping({
    method: "retinoscopy",
    removeWorkingDistanceMm: 2000 / 3,
    right: side("R"),
    left: side("L"),
  });
  const row = { child: "a", RS: "2", RC: "-1", RA: 5, LS: "1.5", LC: "0", LA: "" };
  const findings = await readFindings([row], {
    columns: { ...wide, columns: { subject: "child" } },
  });
  expect([...findings.sphere].map((value) => value.toFixed(9))).toEqual([
    "0.500000000",
    "0.000000000",
  ]);
  expect(findings.problems.map(({ column }) => column)).toEqual(["RS", "LS"]);
});

test("an equivalent is compared with the sphere without working distance", async () => {
  const stated = mapping({
    method: "retinoscopy",
    columns: { sphere: "S", cylinder: "C", axis: "A", statedEquivalent: "SE" },
  });
  const rulesOf = async (SE: number) =>
    (await readFindings([{ ...rows[0], SE }], { columns: stated })).problems.map(
      ({ rule }) => rule,
    );
  expect(await rulesOf(1)).toEqual(["working-distance-removed"]);
  expect((await rulesOf(3)).sort()).toEqual(["stated-equivalent", "working-distance-removed"]);
});

test("what the mapping asked for needs no decision", async () => {
  expect((await auditFile(rows, { columns })).setAside).toBe(0);
});

test("without a method nothing says which spheres are retinoscopy", () => {
  expect(() => defineColumns(mapping({ columns: { sphere: "S" } }))).toThrow(
    /requires a method beside removeWorkingDistanceMm in findings\.0/,
  );
});
