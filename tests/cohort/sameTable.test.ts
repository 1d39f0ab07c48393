import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DuckDBInstance } from "@duckdb/node-api";
import { afterAll, beforeAll, expect, test } from "vitest";
import {
  auditIdentifiers,
  linkCohort,
  pairingReport,
  type Readings,
  readFindings,
  readReadings,
} from "../../src/cohort/index.js";

// The same invented table gives the same columns and problems in memory, scanned in chunks, as rows and
// as Parquet: cases that a comparison of some hundred random tables brought up.

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "same-"));
});
afterAll(() => rm(folder, { recursive: true }));

const power = { sphere: "s", cylinder: "c", axis: "a" };
function mapping(more: object = {}) {
  return {
    kind: "columns",
    version: 1,
    columns: { subject: "id", eye: "eye" },
    readings: [{ columns: power }],
    findings: [{ columns: power }],
    ...more,
  };
}

async function fileOf(text: string): Promise<string> {
  const path = join(folder, "table.csv");
  await writeFile(path, text);
  return path;
}

async function parquet(query: string): Promise<string> {
  const path = join(folder, "table.parquet");
  const connection = await (await DuckDBInstance.create(":memory:")).connect();
  await connection.run(`copy (${query}) to '${path}' (format parquet)`);
  connection.closeSync();
  return path;
}

function content({ problems, ...readings }: Readings) {
  const { codes, labels } = readings.subject;
  return {
    line: [...readings.line],
    subject: Array.from(codes, (code) => labels[code]),
    sphere: [...readings.sphere],
    problems: problems.map(({ row, rule, value }) => [row, rule, value]),
  };
}

/** Read whole and in chunks. */
async function bothWays(text: string, columns: object) {
  const path = await fileOf(text);
  const whole = content(await readReadings(path, { columns }));
  const scanned = content(await readReadings(path, { columns, largeFile: 0 }));
  return { whole, scanned };
}

test("+-1 is no number, also in a column with a cell of more than 12 bytes", async () => {
  const { whole, scanned } = await bothWays(
    "id,eye,s,c,a\n1,OD,+-1,0,0\n2,OD,-1.25000000000,0,0\n",
    mapping(),
  );
  expect(scanned).toEqual(whole);
  expect(whole.sphere).toEqual([Number.NaN, -1.25]);
});

test.each([
  ["a delimiter", '"left, worn"', "left, worn"],
  ["quotes", '"so ""called"""', 'so "called"'],
  ["blanks", '" site "', "site"],
])("a header in quotes with %s", async (_, written, name) => {
  const columns = mapping({ columns: { subject: "id", eye: "eye", site: name } });
  const text = `id,eye,s,c,a,${written}\n1,OD,1,0,0,north\n`;
  const { whole, scanned } = await bothWays(text, columns);
  expect(scanned).toEqual(whole);
  expect(whole.sphere).toEqual([1]);
});

test("the delimiter is looked for outside of quotes", async () => {
  const text = '"one, two, three, four, five, six";id;eye;s;c;a\nx;1;OD;1;0;0\n';
  const { whole, scanned } = await bothWays(text, mapping());
  expect(scanned).toEqual(whole);
  expect(whole.sphere).toEqual([1]);
});

test("lines that end in a carriage return alone", async () => {
  const { whole, scanned } = await bothWays("id,eye,s,c,a\r1,OD,1,0,0\r2,OS,2,0,0\r", mapping());
  expect(scanned).toEqual(whole);
  expect(whole.sphere).toEqual([1, 2]);
});

test("a header without rows is said to be one", async () => {
  const path = await fileOf("id,eye,s,c,a\n");
  for (const largeFile of [undefined, 0]) {
    await expect(readReadings(path, { columns: mapping(), largeFile })).rejects.toThrow(
      "requires at least one row under the header, got none",
    );
  }
});

test("a flag may be a column that is read as a number, too", async () => {
  const path = await fileOf("id,eye,s,c,a,v\n1,OD,1,0,0,0.1\n2,OD,1,0,0,0.2\n");
  const columns = mapping({
    findings: [{ columns: { ...power, acuity: "v" }, flags: { "as written": "v" } }],
  });
  for (const largeFile of [undefined, 0]) {
    const { flags, acuityLogMAR } = await readFindings(path, { columns, largeFile });
    const [{ values }] = flags ?? [];
    expect(Array.from(values.codes, (code) => values.labels[code])).toEqual(["0.1", "0.2"]);
    expect(acuityLogMAR).toEqual(Float64Array.of(0.1, 0.2));
  }
});

test("ages of several blocks are compared in the order of the file", async () => {
  // two visits a row; the second block's age of subject 1 stands above the first block's one
  const pairs = Array.from({ length: 3000 }, (_, row) => `x${row},OD,1,0,0,5,5`);
  const text = ["id,eye,s,c,a,first,second", "1,OD,1,0,0,,7", ...pairs, "1,OD,1,0,0,5,7", ""];
  const columns = mapping({
    age: "years",
    readings: [{ columns: { ...power, age: "first" } }, { columns: { ...power, age: "second" } }],
  });
  const { whole, scanned } = await bothWays(text.join("\n"), columns);
  expect(scanned).toEqual(whole);
  const ages = whole.problems.filter(([row, rule]) => row === 3003 && rule === "age-contradicts");
  expect(ages).toEqual([[3003, "age-contradicts", "5"]]);
});

test("a declared decimal comma is read in rows and in Parquet as in text", async () => {
  const columns = mapping({ text: { decimal: "," } });
  const rows = [{ id: 1, eye: "OD", s: "-1,25", c: 0, a: 0 }];
  expect((await readReadings(rows, { columns })).sphere[0]).toBe(-1.25);
  const path = await parquet("select 1 as id, 'OD' as eye, '-1,25' as s, 0 as c, 0 as a");
  expect((await readReadings(path, { columns })).sphere[0]).toBe(-1.25);
});

test("whole numbers in a floating column are the words of any other file, NaN is an empty cell", async () => {
  const path = await parquet(
    "select unnest([7, 12])::double as id, unnest([1, 2])::float as eye, " +
      "unnest([1.5::double, 'nan'])::double as s, unnest([0::double, 'nan'])::double as c, unnest([0, null])::double as a",
  );
  const columns = mapping({ eyes: { right: ["1"], left: ["2"] } });
  const { line, ...found } = content(await readReadings(path, { columns }));
  expect(line).toEqual([1, 2]);
  expect(found).toEqual({ subject: ["7", "12"], sphere: [1.5, Number.NaN], problems: [] });
});

test("an age over 89 behind a decimal comma, and a date among scores, are found either way", async () => {
  const ages = await fileOf("id;eye;s;c;a;x\n1;OD;1;0;0;90,5\n");
  const scores = "id,eye,s,c,a,x\n1,OD,1,0,0,20150312\n";
  const options = [
    mapping({
      age: "decimal-years",
      text: { decimal: "," },
      columns: { subject: "id", eye: "eye", age: "x" },
    }),
    mapping({ readings: [{ columns: { ...power, confidenceScore: "x" } }] }),
  ];
  for (const largeFile of [undefined, 0]) {
    await expect(readReadings(ages, { columns: options[0], largeFile })).rejects.toThrow(
      "age-over-89",
    );
    const path = await fileOf(scores);
    await expect(readReadings(path, { columns: options[1], largeFile })).rejects.toThrow("date");
    await fileOf("id;eye;s;c;a;x\n1;OD;1;0;0;90,5\n");
  }
  const audit = await auditIdentifiers(ages, { columns: options[0] });
  expect(audit.suspected.map(({ kind }) => kind)).toContain("age-over-89");
});

test("a stated equivalent is listed with the column that it stands in", async () => {
  const findings = await readFindings([{ id: 1, s: 1, c: 0, a: 0, right: 3, left: 4, eye: "" }], {
    columns: mapping({
      findings: [
        {
          right: { ...power, statedEquivalent: "right" },
          left: { ...power, statedEquivalent: "left" },
        },
      ],
    }),
  });
  expect(findings.problems.map(({ column, value }) => [column, value])).toEqual([
    ["right", "3"],
    ["left", "4"],
  ]);
});

test("a subject all of whose rows were rejected is no child", async () => {
  const rows = [
    { subject: "a", eye: "OD", sphere: 1, cylinder: 0, axis: 0 },
    { subject: "b", eye: "?", sphere: 1, cylinder: 0, axis: 0 },
    { subject: "c", eye: "OS", sphere: 1, cylinder: 0, axis: 0 },
  ];
  const cohort = linkCohort({
    readings: await readReadings(rows),
    findings: await readFindings(rows.slice(0, 2)),
  });
  expect(cohort.children.subject).toEqual(["a", "c"]);
  expect(cohort.flow.boxes[0].children).toBe(cohort.children.n);
  expect(pairingReport(cohort).linked).toBe(1);
});

test("cells that look like an identifier are counted alike, a last part that is not full included", async () => {
  const rows = Array.from({ length: 2100 }, (_, row) => {
    const contact = row < 100 ? `someone${row}@example.org` : "";
    return `${row},OD,1,0,0,${contact}`;
  });
  const path = await fileOf(["id,eye,s,c,a,contact", ...rows, ""].join("\n"));
  for (const largeFile of [undefined, 0]) {
    await expect(readReadings(path, { columns: mapping(), largeFile })).rejects.toThrow(
      "looks like e-mail (its cells, 100 rows)",
    );
  }
});
