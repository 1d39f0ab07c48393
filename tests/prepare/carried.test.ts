// What a list of children alone says of them, the place and the sex, stands beside their readings and exams.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, expect, it } from "vitest";
import { linkCohort, readFindings, readReadings } from "../../src/cohort/index.js";
import { prepareFiles } from "../../src/prepare/index.js";

const folder = mkdtempSync(join(tmpdir(), "carried-"));
afterAll(() => rmSync(folder, { recursive: true }));

/** Child 1 is a girl of Oak Hill, 2 a boy of Riverbend, and so on; child 6 is in no list. */
const list = [
  "Child ID,Sex,School",
  ...[1, 2, 3, 4, 5].map(
    (n) => `C00${n},${n % 2 === 1 ? "girl" : "boy"},${n % 2 === 1 ? "Oak Hill" : "Riverbend"}`,
  ),
];
const readings = [
  "Child ID,Screened on,R sph,R cyl,R axis,Pupil R",
  ...[1, 2, 3, 4, 5, 6].map((n) => `C00${n},2026-03-1${n},+${n}.25,-0.50,90,5.${n}`),
];
const exams = [
  "Child ID,Exam date,R sph,R cyl,R axis,Drops",
  ...[6, 4, 2, 1].map((n) => `C00${n},2026-04-1${n},+${n}.50,-0.50,90,yes`),
];

async function prepared(children: readonly string[]) {
  const at = mkdtempSync(join(folder, "case-"));
  const files = { "children.csv": children, "screening.csv": readings, "exam.csv": exams };
  const paths = Object.entries(files).map(([name, lines]) => {
    writeFileSync(join(at, name), lines.join("\n"));
    return join(at, name);
  });
  const to = join(at, "study");
  const { choices } = await prepareFiles(paths, undefined, { to });
  const made = await prepareFiles(paths, choices, { to });
  expect(made.questions).toEqual([]);
  expect(made.written).toBe(true);
  const rows = readFileSync(join(`${to}-key`, "children.csv"), "utf8")
    .trim()
    .split("\n")
    .slice(1);
  const numbers = new Map(rows.map((row) => [/"(.*?)"/.exec(row)![1]!, row.split(",")[0]!]));
  /** The cells of a child's row in a study file, by the names of the columns. */
  const rowOf = (name: string, id: string) => {
    const [header, ...records] = readFileSync(join(to, name), "utf8").trim().split("\n");
    const record = records.find((one) => one.startsWith(`${numbers.get(id)},`))!.split(",");
    return Object.fromEntries(header!.split(",").map((column, place) => [column, record[place]]));
  };
  return { made, to, rowOf };
}

it("by child, in both files; the place is a code", async () => {
  const { made, to, rowOf } = await prepared(list);
  for (const [file, ids] of [
    ["readings.csv", ["C001", "C002", "C003", "C004", "C005"]],
    ["findings.csv", ["C001", "C002", "C004"]],
  ] as const) {
    const cells = ids.map((id) => rowOf(file, id));
    const odd = (id: string) => Number(id.at(-1)) % 2 === 1;
    expect(cells.map(({ Sex }) => Sex)).toEqual(ids.map((id) => (odd(id) ? "girl" : "boy")));
    const oak = rowOf("readings.csv", "C001").School;
    const river = rowOf("readings.csv", "C002").School;
    expect([oak, river].sort()).toEqual(["Site 01", "Site 02"]);
    expect(cells.map(({ School }) => School)).toEqual(ids.map((id) => (odd(id) ? oak : river)));
    expect(rowOf(file, "C006")).toMatchObject({ Sex: "", School: "" });
  }
  expect(made.look.join()).not.toContain("more than one");
  // and results can be given by them
  const mapping = made.mapping!;
  expect(mapping.columns.site).toBe("School");
  const read = await readReadings(join(to, "readings.csv"), { columns: mapping });
  const found = await readFindings(join(to, "findings.csv"), { columns: mapping });
  const cohort = linkCohort({ readings: read, findings: found });
  expect(cohort.children.own?.map(({ label }) => label)).toEqual(["sex"]);
  expect(read.site?.labels).toEqual(expect.arrayContaining(["Site 01", "Site 02"]));
});

it("a child of whom the list says two things has neither, and it is said", async () => {
  const { made, rowOf } = await prepared([...list, "C001,boy,Oak Hill"]);
  expect(rowOf("readings.csv", "C001")).toMatchObject({ Sex: "" });
  expect(rowOf("readings.csv", "C001").School).toMatch(/^Site 0[12]$/);
  expect(made.look.join()).toContain('1 children have more than one "Sex"');
});

it("a file that says it itself keeps its own", async () => {
  const own = readings.map((line, at) => `${line},${at === 0 ? "Sex" : "unknown"}`);
  const before = readings.splice(0, readings.length, ...own);
  const { rowOf } = await prepared(list);
  readings.splice(0, readings.length, ...before);
  expect(rowOf("readings.csv", "C001").Sex).toBe("unknown");
  expect(rowOf("findings.csv", "C001").Sex).toBe("girl");
});
