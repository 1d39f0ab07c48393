import { createWriteStream } from "node:fs";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DuckDBInstance } from "@duckdb/node-api";
import { afterAll, beforeAll, bench, describe } from "vitest";
import {
  describeCohort,
  type Findings,
  linkCohort,
  type Readings,
  readFindings,
  readReadings,
} from "../../src/cohort/index.js";
import { createRandom } from "../../src/inference/index.js";

// 1,000,000 children: 2,000,000 readings, 300,000 findings, 2 % bad cells. The baseline is the time
// DuckDB needs to scan the same two files and sum three columns.
const random = createRandom(20261125);
const bad = ["abc", "n/a", "1.2.3", "99.99", "--", "1175", "-174", ""];
const quarter = (value: number) => (Math.round(value * 4) / 4).toFixed(2);
const cell = (text: string) => (random.uniform() < 0.02 ? bad[random.integer(bad.length)] : text);
const power = () =>
  [
    cell(quarter(2 * random.normal() - 0.1)),
    cell(quarter(-0.25 - 2 * random.uniform())),
    cell(String(1 + random.integer(180))),
  ].join(",");
const columns = {
  kind: "columns",
  version: 1,
  age: "months",
  columns: { subject: "child", eye: "eye", day: "day" },
  readings: [
    {
      instrument: "a",
      cycloplegia: "none",
      correction: "none",
      cylinder: "minus",
      columns: {
        age: "age_months",
        site: "site",
        sphere: "sphere",
        cylinder: "cylinder",
        axis: "axis",
        confidenceScore: "confidence",
      },
    },
  ],
  findings: [
    { cycloplegia: "full", columns: { sphere: "sphere", cylinder: "cylinder", axis: "axis" } },
  ],
};

let folder: string;
let files: { readings: string; findings: string };
let readings: Readings;
let findings: Findings;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "large-"));
  files = { readings: join(folder, "readings.csv"), findings: join(folder, "findings.csv") };
  const header = "child,eye,day,age_months,sphere,cylinder,axis,confidence,site";
  await write(files.readings, header, 2_000_000, (row) => {
    const child = row >> 1;
    const end = `${cell(String(1 + random.integer(9)))},site-${child % 4}`;
    return `${idOf(child)},${sideOf(row)},${child % 700},${36 + (child % 120)},${power()},${end}`;
  });
  await write(files.findings, "child,eye,day,sphere,cylinder,axis", 300_000, (row) => {
    const child = (row >> 1) * 6;
    return `${idOf(child)},${sideOf(row)},${(child % 700) + 30},${power()}`;
  });
  readings = await readReadings(files.readings, { columns });
  findings = await readFindings(files.findings, { columns });
}, 300_000);
afterAll(() => rm(folder, { recursive: true }));

const once = { iterations: 3, time: 0, warmupIterations: 1, warmupTime: 0 };

describe("1,000,000 children from CSV to validated columns", () => {
  bench("DuckDB scans both files and sums three columns (baseline)", bareScan, once);
  bench(
    "both files read, every cell checked and looked through for identifiers (at most 5x)",
    async () => {
      await readReadings(files.readings, { columns });
      await readFindings(files.findings, { columns });
    },
    once,
  );
  bench(
    "linked, with flow and baseline table (at most 2x the reading)",
    () => {
      describeCohort(linkCohort({ readings, findings }));
    },
    once,
  );
});

async function bareScan(): Promise<void> {
  const connection = await (await DuckDBInstance.create(":memory:")).connect();
  for (const file of Object.values(files)) {
    await connection.runAndReadAll(
      "select sum(try_cast(sphere as double)), sum(try_cast(cylinder as double)), " +
        `sum(try_cast(axis as double)) from read_csv('${file}', all_varchar = true, header = true, delim = ',')`,
    );
  }
  connection.closeSync();
}

function idOf(child: number): string {
  return `S${1_000_000 + child}`;
}

function sideOf(row: number): string {
  return row % 2 === 0 ? "OD" : "OS";
}

async function write(path: string, header: string, n: number, rowOf: (row: number) => string) {
  const stream = createWriteStream(path);
  stream.write(`${header}\n`);
  for (let row = 0; row < n; row += 20_000) {
    const lines = Array.from({ length: Math.min(20_000, n - row) }, (_, k) => rowOf(row + k));
    if (!stream.write(`${lines.join("\n")}\n`)) {
      await new Promise<void>((resolve) => stream.once("drain", () => resolve()));
    }
  }
  await new Promise<void>((resolve) => stream.end(() => resolve()));
}
