import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { type Findings, linkCohort, readFindings, readReadings } from "../../src/cohort/index.js";

const columns = {
  kind: "columns",
  version: 1,
  missing: ["888"],
  columns: { subject: "id" },
  findings: [
    {
      flags: { season: "term", nystagmus: "ny" },
      right: { sphere: "RS", cylinder: "RC" },
      left: { sphere: "LS", cylinder: "LC" },
    },
    { flags: { season: "term" }, right: { sphere: "R2", cylinder: "RC" } },
  ],
};
const rows = [
  { id: "a", term: "spring", ny: "no", RS: 1, RC: 0, LS: 2, LC: 0, R2: 1.25 },
  { id: "b", term: "autumn", ny: "yes", RS: 1, RC: 0, LS: 2, LC: 0, R2: 1.5 },
  { id: "c", term: "888", ny: "", RS: 1, RC: 0, LS: 2, LC: 0, R2: 1.75 },
];

const words = ({ flags = [] }: Findings, wanted: string) =>
  flags.flatMap(({ label, values }) =>
    label === wanted ? [...values.codes].map((code) => values.labels[code]) : [],
  );

test("flags keep their words, of both eyes of a row, in file order, empty where not named", async () => {
  const findings = await readFindings(rows, { columns });
  expect(findings.n).toBe(9);
  expect(findings.flags?.map(({ label }) => label)).toEqual(["season", "nystagmus"]);
  expect(words(findings, "season")).toEqual(
    ["spring", "autumn", ""].flatMap((word) => [word, word, word]),
  );
  expect(words(findings, "nystagmus")).toEqual(["no", "no", "", "yes", "yes", "", "", "", ""]);
  expect(findings.problems.filter(({ action }) => action !== "kept")).toEqual([]);
});

test("the same when scanned in chunks", async () => {
  const { findings: _, ...rest } = columns;
  const mapping = { ...rest, findings: [columns.findings[0]] };
  const header = Object.keys(rows[0]).join(",");
  const text = `${[header, ...rows.map((row) => Object.values(row).join(","))].join("\n")}\n`;
  const folder = await mkdtemp(join(tmpdir(), "flags-"));
  const path = join(folder, "flags.csv");
  await writeFile(path, text);
  const findings = await readFindings(path, { columns: mapping, largeFile: 0 }).finally(() =>
    rm(folder, { recursive: true }),
  );
  expect(findings.rawText).toBeNull();
  const inMemory = await readFindings(rows, { columns: mapping });
  expect(findings.flags).toEqual(inMemory.flags);
});

test("a flag without its column is told; without flags there are none", async () => {
  const wrong = { ...columns, findings: [{ ...columns.findings[0], flags: { x: "nowhere" } }] };
  await expect(readFindings(rows, { columns: wrong })).rejects.toThrow(
    /requires the column "nowhere" \(flag x\)/,
  );
  const eye = { subject: "a", eye: "OD", sphere: 1, cylinder: 0 };
  const findings = await readFindings([eye]);
  expect(findings.flags).toEqual([]);
  expect(linkCohort({ readings: await readReadings([eye]), findings }).children.n).toBe(1);
});
