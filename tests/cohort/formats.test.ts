import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DuckDBInstance } from "@duckdb/node-api";
import { afterAll, beforeAll, expect, test } from "vitest";
import {
  type Findings,
  type Readings,
  readFindings,
  readReadings,
} from "../../src/cohort/index.js";

// Workbooks: written by openpyxl (fixtures/make_workbooks.py); Parquet: written by DuckDB.
// The same invented table as workbook, as Parquet and as text has to give the same columns.
const table = [
  ["child", "eye", "visit", "months", "S", "C", "A"],
  ["a", "OD", "3", "61", "-1.25", "-0.5", "175"],
  ["a", "OS", "3", "61", "0.75", "-1", "12"],
  ["b", "OD", "5", "48", "abc", "-0.25", "90"],
  ["b", "OS", "5", "48", "", "", ""],
  ["c", "OD", "9", "70", "99.99", "0", "0"],
];
const csv = `${table.map((cells) => cells.join(",")).join("\n")}\n`;
const columns = {
  kind: "columns",
  version: 1,
  age: "months",
  columns: { subject: "child", eye: "eye", day: "visit", age: "months" },
  readings: [{ instrument: "x", columns: { sphere: "S", cylinder: "C", axis: "A" } }],
  findings: [{ method: "subjective", columns: { sphere: "S", cylinder: "C", axis: "A" } }],
};

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "formats-"));
});
afterAll(() => rm(folder, { recursive: true }));

/** Everything but the file's name and the cells as written, which a scan does not keep. */
function content(data: Readings | Findings) {
  const problems = data.problems.map((problem) => ({ ...problem, file: "" }));
  return { ...data, rawText: null, problems };
}

async function expected(read: typeof readReadings | typeof readFindings) {
  return content(await read({ text: csv, name: "table.csv" }, { columns }));
}

test("the text itself: one sphere is no number, one is beyond 40 D, one row is empty", async () => {
  const { sphere, problems } = await expected(readReadings);
  expect([...sphere]).toEqual([-1.25, 0.75, Number.NaN, Number.NaN, Number.NaN]);
  expect(problems.map((problem) => `${problem.row} ${problem.rule}`)).toEqual([
    "4 not-a-number",
    "6 sphere-range",
  ]);
});

test("a workbook reads like its text", async () => {
  const path = "tests/cohort/fixtures/table.xlsx";
  for (const read of [readReadings, readFindings]) {
    expect(content(await read(path, { columns }))).toEqual(await expected(read));
  }
});

test("another sheet of a workbook, by its name and by its number; one that is not there", async () => {
  const path = "tests/cohort/fixtures/second-sheet.xlsx";
  for (const sheet of ["Sheet2", 2]) {
    const found = await readReadings(path, { columns: { ...columns, text: { sheet } } });
    expect(content(found)).toEqual(await expected(readReadings));
  }
  await expect(
    readReadings(path, { columns: { ...columns, text: { sheet: "Sheet3" } } }),
  ).rejects.toThrow(
    /requires the sheet Sheet3 .* got a workbook with "Sheet1", "Sheet2"; name one of these/,
  );
});

test("a Parquet file of text columns reads like its text, rows counted from 1", async () => {
  const path = await parquet("text.parquet", "select * from read_csv($1, all_varchar = true)");
  for (const read of [readReadings, readFindings]) {
    const wanted = await expected(read);
    const found = content(await read(path, { columns }));
    // a Parquet file has no header line: its first row is row 1
    const line = wanted.line.map((of) => of - 1);
    const problems = wanted.problems.map((problem) => ({
      ...problem,
      row: (problem.row ?? 0) - 1,
    }));
    expect(found).toEqual({ ...wanted, line, problems });
  }
});

test("a Parquet file of numbers gives the numbers", async () => {
  const path = await parquet(
    "numbers.parquet",
    "select child, eye, visit::int as visit, months::int as months, try_cast(S as double) as S, " +
      "try_cast(C as decimal(6, 2)) as C, try_cast(A as smallint) as A " +
      "from read_csv($1, all_varchar = true)",
  );
  const found = await readReadings(path, { columns });
  expect([...found.sphere].slice(0, 2)).toEqual([-1.25, 0.75]);
  expect([...found.cylinder]).toEqual([-0.5, -1, -0.25, Number.NaN, 0]);
  expect([...found.axis]).toEqual([175, 12, 90, Number.NaN, 0]);
  expect([...(found.ageMonths ?? [])]).toEqual([61, 61, 48, 48, 70]);
});

async function parquet(name: string, query: string): Promise<string> {
  const source = join(folder, "table.csv");
  await writeFile(source, csv);
  const connection = await (await DuckDBInstance.create(":memory:")).connect();
  const path = join(folder, name);
  await connection.run(
    `copy (${query.replace("$1", `'${source}'`)}) to '${path}' (format parquet)`,
  );
  connection.closeSync();
  return path;
}

test("numbers of a Parquet file that are no numbers read like their texts", async () => {
  const path = join(folder, "numbers.parquet");
  const cells = ["-1.25", "inf", "-inf", "nan", "", "0.0", "888", "1e-7", "-0.75"];
  const rows = cells.map((sphere, at) => `(${at + 1}, '${sphere}', ${at % 180})`).join(", ");
  const instance = await DuckDBInstance.create(":memory:");
  const connection = await instance.connect();
  await connection.run(
    `copy (select child, 'OD' as eye, try_cast(s as double) as S, 0.0::double as C, a as A from (values ${rows}) as t(child, s, a)) to '${path}' (format parquet)`,
  );
  connection.closeSync();
  // a writer of texts says "nan" for nothing, which this reader takes as an empty cell of a column of numbers
  const text = ["child,eye,S,C,A"]
    .concat(
      cells.map((sphere, at) => `${at + 1},OD,${sphere === "nan" ? "" : sphere},0,${at % 180}`),
    )
    .join("\n");
  const mapping = {
    kind: "columns",
    version: 1,
    missing: ["888"],
    columns: { subject: "child", eye: "eye" },
    readings: [{ columns: { sphere: "S", cylinder: "C", axis: "A" } }],
  };
  const [fromParquet, fromText] = [
    content(await readReadings(path, { columns: mapping })),
    content(await readReadings({ text, name: "numbers.csv" }, { columns: mapping })),
  ];
  // a Parquet file has no line for its names
  const unplaced = ({ problems, ...data }: ReturnType<typeof content>, names: number) => ({
    ...data,
    line: data.line.map((line) => line - names),
    problems: problems.map((problem) => ({ ...problem, row: problem.row! - names })),
  });
  expect(unplaced(fromParquet, 0)).toEqual(unplaced(fromText, 1));
  expect([...fromParquet.sphere]).toEqual([
    -1.25,
    Number.NaN,
    Number.NaN,
    Number.NaN,
    Number.NaN,
    0,
    Number.NaN,
    1e-7,
    -0.75,
  ]);
  expect(fromParquet.problems.filter(({ rule }) => rule === "not-a-number")).toHaveLength(2);
});
