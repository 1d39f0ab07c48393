// Both eyes in one cell: taken apart where each is marked, or by the order that a person said, never by a guess.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { auditFile, type ColumnMapping, readReadings } from "../../src/cohort/index.js";
import { prepareFiles } from "../../src/prepare/index.js";
import { draftStudy } from "../../src/study/index.js";

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "eyes-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

const power = (row: number, eye: number) => {
  const sphere = (((row * 7 + eye * 3) % 21) - 8) / 4;
  const cylinder = -((row * 5 + eye) % 6) / 4;
  const signed = (value: number) => `${value < 0 ? "-" : "+"}${Math.abs(value).toFixed(2)}`;
  return cylinder === 0
    ? `${signed(sphere)} sph`
    : `${signed(sphere)} ${signed(cylinder)} x ${1 + ((row * 31 + eye * 11) % 180)}`;
};
const rows = Array.from({ length: 24 }, (_, row) => row);
const exam = ["Pupil No,Exam date,OD sphere,OD cylinder,OD axis,Drops"]
  .concat(
    rows
      .filter((row) => row % 2 === 0)
      .map((row) => `K${100 + row},2026-04-${10 + (row % 9)},+1.00,-0.50,9,yes`),
  )
  .join("\n");

/** A screening with the given columns of powers, and the exam, in a folder of their own. */
function raw(header: string, cells: (row: number) => string): [string, string] {
  const at = mkdtempSync(join(folder, "raw-"));
  const lines = rows.map((row) => `K${100 + row},2026-03-${10 + (row % 15)},${cells(row)}`);
  writeFileSync(
    join(at, "screening.csv"),
    [`Pupil No,Screening date,${header}`, ...lines].join("\n"),
  );
  writeFileSync(join(at, "exam.csv"), exam);
  return [join(at, "screening.csv"), join(at, "exam.csv")];
}

/** Powers by the child's id and eye, read by the mapping that was proposed. */
async function powersOf(to: string, mapping: ColumnMapping) {
  const key = readFileSync(join(`${to}-key`, "children.csv"), "utf8")
    .trim()
    .split("\n")
    .slice(1);
  const idOf = new Map(key.map((line) => [line.split(",")[0]!, /"(.*?)"/.exec(line)![1]]));
  const data = await readReadings(join(to, "readings.csv"), { columns: mapping });
  const found = Array.from({ length: data.n }, (_, row) => [
    `${idOf.get(data.subject.labels[data.subject.codes[row]!]!)} ${data.eye.labels[data.eye.codes[row]!]}`,
    [
      data.sphere[row],
      data.cylinder[row],
      data.axis[row],
      data.status.labels[data.status.codes[row]!],
    ],
  ]);
  return Object.fromEntries(found);
}
const newFolder = () => join(mkdtempSync(join(folder, "to-")), "study");

async function apart(
  header: string,
  cells: (row: number) => string,
  eyes?: "right-left" | "left-right",
) {
  const [to, files] = [newFolder(), raw(header, cells)];
  let made = await prepareFiles(files, undefined, { to });
  if (eyes !== undefined) {
    expect(made.questions.map(({ column, key, allowed }) => [column, key, allowed])).toEqual([
      ["Refraction", "eyes", ["right-left", "left-right"]],
    ]);
    expect(made.written).toBe(false);
    const choices = JSON.parse(JSON.stringify(made.choices));
    expect(choices.files[0].columns.Refraction.eyes).toBeNull();
    choices.files[0].columns.Refraction.eyes = eyes;
    made = await prepareFiles(files, choices, { to });
    // the answer stands in the file for the next call
    expect(made.choices.files[0]!.columns.Refraction!.eyes).toBe(eyes);
  }
  expect(made.questions).toEqual([]);
  expect(made.written).toBe(true);
  const audit = await auditFile(join(to, "readings.csv"), {
    columns: made.mapping!,
    only: "readings",
  });
  expect(audit.identifiers).toEqual([]);
  return { powers: await powersOf(to, made.mapping!), audit, mapping: made.mapping! };
}

const nothing = (row: number) => row % 11 === 5;
const twoColumns = () =>
  apart("Rx R,Rx L", (row) =>
    nothing(row) ? "No reading,No reading" : `${power(row, 0)},${power(row, 1)}`,
  );

it.each<[string, (row: number) => string]>([
  ["R and L", (row) => `R ${power(row, 0)} / L ${power(row, 1)}`],
  ["OD and OS, the left one first", (row) => `OS ${power(row, 1)} OD ${power(row, 0)}`],
  ["marks behind", (row) => `${power(row, 0)} RE; ${power(row, 1)} LE`],
])("%s: the same as two columns, unasked", async (_, cells) => {
  const one = await apart("Refraction", (row) => (nothing(row) ? "No reading" : cells(row)));
  expect(one.mapping.readings![0]).toMatchObject({
    eyesInCell: "marked",
    cylinder: "minus",
    marks: { "No reading": "unreadable" },
    ...{ right: { prescription: "Refraction" }, left: { prescription: "Refraction" } },
  });
  expect(one.audit.setAside).toBe(0);
  expect(one.powers).toEqual((await twoColumns()).powers);
});

it.each([
  ["right-left", 0, 1],
  ["left-right", 1, 0],
] as const)("unmarked, and %s was said", async (eyes, first, second) => {
  const one = await apart(
    "Refraction",
    (row) => (nothing(row) ? "No reading" : `${power(row, first)} / ${power(row, second)}`),
    eyes,
  );
  expect(one.audit.setAside).toBe(0);
  expect(one.powers).toEqual((await twoColumns()).powers);
});

it("an eye without a word is not attempted; a cell without a mark is given to neither, and said", async () => {
  const { powers, audit } = await apart("Refraction", (row) => {
    if (row === 3) return `R ${power(row, 0)}`;
    if (row === 4) return "+1.00 -0.50 x 90";
    return `R ${power(row, 0)} / L ${power(row, 1)}`;
  });
  expect(powers["K103 right"]![3]).toBe("measured");
  expect(powers["K103 left"]).toEqual([Number.NaN, Number.NaN, Number.NaN, "not-attempted"]);
  for (const eye of ["right", "left"]) expect(powers[`K104 ${eye}`]![0]).toBeNaN();
  const [line] = audit.parts[0]!.byColumn;
  expect(line).toMatchObject({ rule: "prescription-unclear", column: "Refraction", count: 2 });
  expect(line!.places[0]!.detail).toContain(
    "requires a mark of the eye, such as R and L or OD and OS",
  );
});

it("every eye that is set aside counts, so that a wrong order is a fault of the file", async () => {
  const text = `id,rx\n${rows.map((row) => `s${row},${row < 6 ? "bad 1" : "R +1.00 L +1.25"}`).join("\n")}`;
  const path = join(mkdtempSync(join(folder, "fault-")), "a.csv");
  writeFileSync(path, text);
  const block = { right: { prescription: "rx" }, left: { prescription: "rx" } };
  const columns = (eyesInCell: string) => ({
    ...{ kind: "columns", version: 1, columns: { subject: "id" } },
    readings: [{ ...block, eyesInCell }],
  });
  const [marked] = (await auditFile(path, { columns: columns("marked") })).parts;
  expect(marked!.faults).toMatchObject([{ rule: "prescription-unclear", eyes: 12, of: 48 }]);
  const [ordered] = (await auditFile(path, { columns: columns("right-left") })).parts;
  expect(ordered!.faults).toMatchObject([{ rule: "prescription-unclear", eyes: 48, of: 48 }]);
});

it("draft alone maps a marked column as well", async () => {
  const [readings, findings] = raw(
    "Refraction",
    (row) => `R ${power(row, 0)} / L ${power(row, 1)}`,
  );
  const { files } = await draftStudy({ readings, findings, folder: newFolder() });
  expect((files["columns.json"] as ColumnMapping).readings![0]).toMatchObject({
    eyesInCell: "marked",
    right: { prescription: "Refraction" },
  });
});
