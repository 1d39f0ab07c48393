import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import {
  type Coded,
  defineColumns,
  linkCohort,
  type Readings,
  readFindings,
  readReadings,
} from "../../src/cohort/index.js";

// Invented tables. What codes mean is decided in src/cohort/README.md.

const power = { sphere: "s", cylinder: "c", axis: "a" };
const mapping = (more: object = {}, block: object = {}) => ({
  kind: "columns",
  version: 1,
  columns: { subject: "id", eye: "eye" },
  readings: [{ columns: power, ...block }],
  findings: [{ columns: power }],
  ...more,
});
const words = ({ codes, labels }: Coded) => Array.from(codes, (code) => labels[code]);
const NA = Number.NaN;
const listed = ({ problems }: Readings) =>
  problems.map(({ row, column, value, rule }) => `${row} ${column} ${value} ${rule}`);

test("a code is one code as 888, 888.0 and 888.00: nobody is examined by it", async () => {
  const text = "id,eye,s,c,a\na,OD,888,888.0,888.00\nb,OD,888.0,888.0,888.0\nc,OD,1,0,0\n";
  for (const missing of [["888"], [888], ["888.0"]]) {
    const readings = await readReadings({ text }, { columns: mapping({ missing }) });
    expect(words(readings.status)).toEqual(["not-attempted", "not-attempted", "measured"]);
    expect(readings.problems).toEqual([]);
  }
});

test("88 in the list for all columns is no sphere, but an axis, an age, a site and a subject", async () => {
  const columns = mapping({
    missing: ["88", "NA"],
    age: "years",
    columns: { subject: "id", eye: "eye", age: "age", site: "site", day: "day" },
  });
  const rows = [
    { id: 88, eye: "OD", s: 88, c: -1, a: 88, age: 88, site: 88, day: 88 },
    { id: "b", eye: "OD", s: 1, c: -1, a: 88, age: 5, site: "NA", day: 3 },
    { id: "c", eye: "OD", s: 88, c: 88, a: 88, age: 5, site: "x", day: 3 },
    { id: "NA", eye: "OD", s: 1, c: -1, a: 10, age: 5, site: "x", day: 3 },
  ];
  const readings = await readReadings(rows, { columns });
  expect(words(readings.subject)).toEqual(["88", "b", "c"]);
  expect([...readings.sphere]).toEqual([NA, 1, NA]);
  expect([...readings.axis]).toEqual([88, 88, NA]);
  expect([...readings.ageYears!]).toEqual([88, 5, 5]);
  expect(words(readings.site!)).toEqual(["88", "", "x"]);
  // a day has no bounds: there the code counts, as it always did
  expect([...readings.day!]).toEqual([NA, 3, 3]);
  // an axis beside no powers is the code again, and no measurement
  expect(words(readings.status)).toEqual(["measured", "measured", "not-attempted"]);
  expect(listed(readings)).toContain("null a 88 missing-code-kept");
  expect(listed(readings)).toContain("null age 88 missing-code-kept");
  const axis = readings.problems.find(({ column }) => column === "a");
  expect(axis?.detail).toContain(
    "2 cells of a stayed 88; if they are missing, say it of this column",
  );
});

test("a code of a column or of a quantity counts there and nowhere else", async () => {
  const rows = [{ id: "a", eye: "OD", s: 20, c: -1, a: 20 }];
  for (const missing of [{ columns: { s: [20] } }, { quantities: { sphere: ["20.0"] } }]) {
    const { sphere, axis } = await readReadings(rows, { columns: mapping({ missing }) });
    expect([...sphere, ...axis]).toEqual([NA, 20]);
  }
  const everywhere = mapping({ missing: { everywhere: [20], columns: { s: [20] } } });
  const both = await readReadings(rows, { columns: everywhere });
  expect([...both.sphere, ...both.axis]).toEqual([NA, 20]);
  // the sphere's column is named: only the axis is doubtful
  expect(both.problems.map(({ column, rule }) => `${column} ${rule}`)).toEqual([
    "a missing-code-kept",
    "s sphere-missing",
  ]);
});

test("a misspelt column of missing codes, and one code with two meanings, are refused", () => {
  expect(() => defineColumns(mapping({ missing: { columns: { sph: [1] } } }))).toThrow(
    'requires columns that the mapping reads in missing.columns, got "sph"',
  );
  expect(() => defineColumns(mapping({ eyes: { right: ["1"], left: [1] } }))).toThrow(
    'requires one meaning for each code of eyes, got two for "1" and 1, which are one code',
  );
  expect(() =>
    defineColumns(mapping({}, { marks: { "9": "unreadable", "9.0": "over-range" } })),
  ).toThrow("one meaning for each code of readings.0.marks");
});

test("codes of eyes, states and marks are numbers or words", async () => {
  const rows = [
    { id: "a", eye: 1, s: 99, c: "", a: "", drops: 1 },
    { id: "a", eye: "2.0", s: "99.0", c: "", a: "", drops: "2.0" },
    { id: "b", eye: "1.0", s: 20, c: 0, a: 0, drops: 3 },
  ];
  const columns = mapping(
    { eyes: { right: ["1"], left: [2] } },
    {
      marks: { "99": "over-range", "20": "unreadable" },
      cycloplegia: { codes: { "1.0": "none", "2": "full" } },
      columns: { ...power, cycloplegia: "drops" },
    },
  );
  const readings = await readReadings(rows, { columns });
  expect(words(readings.eye)).toEqual(["right", "left", "right"]);
  expect(words(readings.status)).toEqual(["over-range", "over-range", "unreadable"]);
  expect(words(readings.cycloplegia)).toEqual(["none", "full", "unknown"]);
  const unknown = readings.problems.find(({ rule }) => rule === "word-unknown");
  expect(unknown).toMatchObject({ value: "3", detail: 'the mapping knows "2", "1.0"' });
});

test("where no eye fits, the words found are shown; what looks like a name is not", async () => {
  const columns = mapping({ eyes: { right: ["1"], left: ["2"] } });
  const rows = ["RE", "LE"].map((eye) => ({ id: "a", eye, s: 1, c: 0, a: 0 }));
  await expect(readReadings(rows, { columns })).rejects.toThrow(
    '("eye" holds "RE", "LE"; the mapping knows "1", "2")',
  );
  const long = [{ id: "a", eye: "somebody@example.org", s: 1, c: 0, a: 0 }];
  const allowIdentifiers = ["eye"];
  await expect(readReadings(long, { columns, allowIdentifiers })).rejects.toThrow(
    /none of the words declared for right and left$/,
  );
});

test("several age columns in order, in their own units; 8;11 and 8 alone", async () => {
  const columns = mapping({
    columns: {
      subject: "id",
      eye: "eye",
      age: [
        { column: "m", unit: "months" },
        { column: "y;m", unit: "years-and-months" },
        { column: "y", unit: "years" },
      ],
    },
  });
  const rows = [
    { id: "a", eye: "OD", m: 61, "y;m": "9;0", y: 9 },
    { id: "b", eye: "OD", m: "", "y;m": "8;11", y: 8 },
    { id: "c", eye: "OD", m: "", "y;m": "8", y: 7 },
    { id: "d", eye: "OD", m: "", "y;m": "", y: 7 },
    { id: "e", eye: "OD", m: "", "y;m": "8;12", y: 8 },
  ].map((row) => ({ ...row, s: 1, c: 0, a: 0 }));
  const readings = await readReadings(rows, { columns });
  expect([...readings.ageMonths!]).toEqual([61, 107, NA, NA, NA]);
  expect([...readings.ageYears!]).toEqual([NA, NA, 8, 7, 8]);
  expect(listed(readings)).toEqual(["5 y;m 8;12 age-range"]);
  const cohort = linkCohort({ readings, findings: await readFindings(rows, { columns }) });
  expect([...cohort.children.ageMonths]).toEqual([61, 107, NA, NA, NA]);
  expect([...cohort.children.ageYears]).toEqual([NA, NA, 8, 7, 8]);
  const old = rows.map((row) => ({ ...row, m: "", "y;m": "91;2" }));
  await expect(readReadings(old, { columns })).rejects.toThrow("age-over-89");
});

test("an age column without a unit is refused", () => {
  const age = ["m", { column: "y", unit: "years" }];
  expect(() => defineColumns(mapping({ columns: { subject: "id", eye: "eye", age } }))).toThrow(
    "years-and-months",
  );
});

test("subjects are filled down where declared; day, age and site within a subject only", async () => {
  const columns = mapping({
    fillDown: ["subject", "day", "age", "site"],
    age: "months",
    columns: { subject: "id", eye: "eye", day: "day", age: "m", site: "site" },
  });
  const text = [
    "id,eye,s,c,a,day,m,site",
    ",OD,1,0,0,1,40,x",
    "a,OD,1,0,0,3,61,north",
    ",OS,2,0,0,,,",
    "b,OD,3,0,0,,,",
    ",OS,4,0,0,9,50,south",
    "",
  ].join("\n");
  const folder = await mkdtemp(join(tmpdir(), "fill-"));
  const path = join(folder, "table.csv");
  await writeFile(path, text);
  for (const largeFile of [undefined, 0]) {
    const readings = await readReadings(path, { columns, largeFile });
    expect(words(readings.subject)).toEqual(["a", "a", "b", "b"]);
    expect([...readings.day!]).toEqual([3, 3, NA, 9]);
    expect([...readings.ageMonths!]).toEqual([61, 61, NA, 50]);
    expect(words(readings.site!)).toEqual(["north", "north", "", "south"]);
    expect(listed(readings)).toEqual(["2 id  subject-missing"]);
  }
  await writeFile(path, text.replace("a,OD,1,0,0,3,61,north", "a,OD,1"));
  for (const largeFile of [undefined, 0]) {
    await expect(readReadings(path, { columns, largeFile })).rejects.toThrow(
      "fillDown requires rows of the header's width, got another one in line 3 of table.csv",
    );
  }
  await rm(folder, { recursive: true });
});

test("without fillDown a row without a subject is rejected", async () => {
  const rows = [
    { id: "a", eye: "OD", s: 1, c: 0, a: 0 },
    { id: "", eye: "OS", s: 1, c: 0, a: 0 },
  ];
  expect((await readReadings(rows, { columns: mapping() })).n).toBe(1);
});

test("own columns are typed; examiners' names are read as numbers only, and refused as words", async () => {
  const rows = [
    { id: "a", eye: "OD", s: 1, c: 0, a: 0, who: "Mary Jones", w: 1.5, sex: "1.0" },
    { id: "b", eye: "OD", s: 2, c: 0, a: 0, who: "", w: "", sex: 1 },
    { id: "c", eye: "OD", s: 3, c: 0, a: 0, who: "John Smith", w: "?", sex: 2 },
    { id: "d", eye: "OD", s: 4, c: 0, a: 0, who: "Mary Jones", w: 2, sex: "NA" },
  ];
  const own = (examiner: unknown) =>
    mapping(
      { missing: ["NA"] },
      { own: { examiner, weight: { column: "w", type: "number" }, sex: "sex" } },
    );
  const readings = await readReadings(rows, { columns: own({ column: "who", coded: true }) });
  const [examiner, weight, sex] = readings.own!;
  expect(words(examiner!.values as Coded)).toEqual(["examiner 1", "", "examiner 2", "examiner 1"]);
  expect([...(weight!.values as Float64Array)]).toEqual([1.5, NA, NA, 2]);
  expect(words(sex!.values as Coded)).toEqual(["1", "1", "2", ""]);
  expect(listed(readings)).toEqual(["3 w ? not-a-number"]);
  expect(JSON.stringify(readings)).not.toMatch(/Mary|Smith/);
  await expect(readReadings(rows, { columns: own("who") })).rejects.toThrow("without identifiers");
  await expect(readReadings(rows, { columns: own("nobody") })).rejects.toThrow(
    'requires the column "nobody" (own column examiner)',
  );
});

test("a stated equivalent of a reading is kept, and a reading of an equivalent alone is measured", async () => {
  const columns = mapping({}, { columns: { ...power, statedEquivalent: "m" } });
  const rows = [
    { id: "a", eye: "OD", s: 1, c: -0.5, a: 10, m: 0.75 },
    { id: "b", eye: "OD", s: 1, c: -0.5, a: 10, m: 1.75 },
    { id: "c", eye: "OD", s: "", c: "", a: "", m: -2 },
    { id: "d", eye: "OD", s: "", c: "", a: "", m: "" },
  ];
  const readings = await readReadings(rows, { columns });
  expect([...readings.statedEquivalent!]).toEqual([0.75, 1.75, -2, NA]);
  expect(words(readings.status)).toEqual(["measured", "measured", "measured", "not-attempted"]);
  expect(listed(readings)).toEqual([
    "2 m 1.75 stated-equivalent",
    "3 m -2 stated-equivalent-alone",
  ]);
});
