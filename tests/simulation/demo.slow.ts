import { execFileSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";
import { readFindings, readReadings } from "../../src/cohort/index.js";

const folder = new URL("../../data/demo/", import.meta.url);
const read = (name: string) => readFileSync(new URL(name, folder), "utf8");

interface Planted {
  readonly id: string;
  readonly file: "invented-readings.csv" | "invented-findings.csv";
  readonly rule: string | null;
  readonly count: number;
  readonly lines: readonly number[];
}
const planted: readonly Planted[] = JSON.parse(read("planted-faults.json"));

const linesOf = {
  "invented-readings.csv": read("invented-readings.csv").trim().split("\n"),
  "invented-findings.csv": read("invented-findings.csv").trim().split("\n"),
};

/** The cells of one line; no cell of these files holds a line break. */
function cells(file: Planted["file"], line: number): Record<string, string> {
  const rows = linesOf[file];
  const values = [...rows[line - 1].matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^,]*))/g)];
  return Object.fromEntries(
    rows[0].split(",").map((name, index) => [name, values[index]?.[1] ?? values[index]?.[2]]),
  );
}

test("files are marked as invented, and each is below 4 MB", () => {
  for (const name of readdirSync(folder)) {
    expect(statSync(new URL(name, folder)).size).toBeLessThan(4e6);
    if (name.endsWith(".csv")) expect(name).toMatch(/^invented-/);
  }
  expect(read("README.md")).toContain("Nobody in these files exists.");
});

test("the script writes the same bytes again", () => {
  // It runs on the build that `npm test` makes first.
  const copy = mkdtempSync(join(tmpdir(), "demo-"));
  execFileSync(process.execPath, [fileURLToPath(new URL("make-demo.mjs", folder)), copy]);
  const written = readdirSync(copy).sort();
  expect(written).toEqual([
    "README.md",
    "invented-findings.csv",
    "invented-identifiers.csv",
    "invented-readings.csv",
    "invented-truth.json",
    "planted-faults.json",
  ]);
  for (const name of written) {
    expect(readFileSync(join(copy, name), "utf8") === read(name), name).toBe(true);
  }
  rmSync(copy, { recursive: true });
});

test("reading the files lists every fault that a reader can see, on its line", async () => {
  const columns = JSON.parse(read("columns.json"));
  const path = (name: string) => fileURLToPath(new URL(name, folder));
  // the planted age of 1999 months looks like an age above 89 years
  const allowIdentifiers = ["age_months"];
  const problems = {
    "invented-readings.csv": (
      await readReadings(path("invented-readings.csv"), { columns, allowIdentifiers })
    ).problems,
    "invented-findings.csv": (
      await readFindings(path("invented-findings.csv"), { columns, allowIdentifiers })
    ).problems,
  };
  for (const { id, file, rule, lines } of planted) {
    // Swapped eyes are seen only beside the findings, when both are linked.
    if (rule === null || id === "eyes-swapped") continue;
    const listed = new Set(
      problems[file].filter((problem) => problem.rule === rule).map(({ row }) => row),
    );
    expect(
      lines.filter((line) => !listed.has(line)),
      id,
    ).toEqual([]);
  }
});

test("20,000 children at four sites", () => {
  const rows = read("invented-readings.csv").trim().split("\n").slice(1);
  const subjects = new Set(rows.map((row) => row.split(",")[0]));
  const sites = new Set(rows.map((row) => row.split(",")[1].toLowerCase()));
  // Less 5 children without a number and 4 under the number of another; plus the empty number.
  expect(subjects.size).toBe(20_000 - 5 - 4 + 1);
  expect(sites.size).toBe(4);
});

test("the README lists every planted fault with its count", () => {
  const listed = [
    ...read("README.md").matchAll(/^\| ([a-z0-9-]+) \| (\d+) \| (\w+) \| (\S+) \|/gm),
  ].map(([, id, count, file, rule]) => ({ id, count: Number(count), file, rule }));
  expect(listed).toEqual(
    planted.map(({ id, count, file, rule }) => ({
      id,
      count,
      file: file === "invented-readings.csv" ? "readings" : "findings",
      rule: rule ?? "-",
    })),
  );
  for (const { count, lines } of planted) expect(lines).toHaveLength(count);
});

test("planted faults stand on the lines that are listed", () => {
  const holds: Readonly<Record<string, (row: Record<string, string>) => boolean>> = {
    "plus-cylinder": (row) => Number(row.R_cyl) > 0 && Number(row.L_cyl) > 0,
    "axis-beyond-180": (row) => Number(row.R_axis) > 180,
    "axis-missing": (row) => Number(row.R_cyl) < 0 && row.R_axis === "",
    "axis-beside-zero": (row) => Number(row.R_cyl) === 0 && row.R_axis === "90",
    "axis-zero": (row) => row.R_axis === "0",
    "decimal-point-lost": (row) => Math.abs(Number(row.R_sphere)) > 40,
    "decimal-comma": (row) => /^[+-]\d+,\d\d$/.test(row.R_sphere),
    "unicode-minus": (row) => row.R_cyl.startsWith("\u2212"),
    "word-for-number": (row) => row.L_sphere === "see notes",
    "sphere-missing": (row) => row.L_sphere === "" && Number(row.L_cyl) < 0,
    "cylinder-missing": (row) => row.L_sphere !== "" && row.L_cyl === "",
    "both-empty": (row) => row.R_sphere === "" && row.L_pupil === "",
    "through-glasses": (row) => row.glasses === "yes",
    "glasses-word": (row) => row.glasses === "maybe",
    "score-off-scale": (row) => row.R_score === "99",
    "pupil-unit": (row) => Number(row.R_pupil) > 20,
    "age-in-years": (row) => Number(row.age_months) < 36 && row.age_months !== "",
    "age-impossible": (row) => row.age_months === "1999",
    "age-not-whole": (row) => row.age_months.endsWith(".5"),
    "age-missing": (row) => row.age_months === "",
    "day-missing": (row) => row.visit_day === "",
    "site-spelling": (row) => row.site === row.site.toUpperCase(),
    "subject-missing": (row) => row.study_id === "",
    "ragged-row": (row) => row.L_pupil === undefined,
    "range-end": (row) => row.R_sphere === "+7.50",
    "finding-plus-cylinder": (row) => Number(row.cyl) > 0,
    "equivalent-wrong": (row) =>
      Number(row.equivalent) === Number(row.sphere) + Number(row.cyl) / 2 + 0.5,
    "finding-axis": (row) => Number(row.axis) < 0,
    "finding-word": (row) => row.sphere === "plano",
    "without-drops": (row) => row.drops === "none",
    "drops-unknown": (row) => row.drops === "",
    unmatched: (row) => row.study_id.startsWith("X"),
    "eye-word": (row) => row.eye === "both",
    "reason-missing": (row) => row.why_examined === "",
  };
  for (const fault of planted) {
    const check = holds[fault.id];
    if (check === undefined) continue;
    const total = linesOf[fault.file].length;
    const found: number[] = [];
    for (const line of fault.lines) if (check(cells(fault.file, line))) found.push(line);
    expect(found, fault.id).toEqual(fault.lines);
    expect(Math.max(...fault.lines)).toBeLessThanOrEqual(total);
  }
  expect(Object.keys(holds).filter((id) => !planted.some((fault) => fault.id === id))).toEqual([]);
});

test("the committed truth is a table of all children", () => {
  const truth = JSON.parse(read("invented-truth.json"));
  for (const table of [truth.byFinding, truth.byLatent]) {
    const { truePositive, falsePositive, falseNegative, trueNegative } = table;
    expect(truePositive + falsePositive + falseNegative + trueNegative).toBe(20_000);
    expect(truePositive + falsePositive).toBe(truth.referred);
  }
});
