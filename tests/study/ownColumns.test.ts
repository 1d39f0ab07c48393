import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { defineProtocol } from "../../src/protocol/index.js";
import { runStudy, studyReport } from "../../src/study/index.js";
import { reportMarkdown } from "../../src/study/publish/writeMarkdown.js";

// The children data with an invented column "group": a and b in turn by the child's number, none for every tenth.
const protocol = JSON.parse(await readFile("data/children/protocol.json", "utf8"));
const groupOf = (subject: string) => {
  const number = Number(subject.slice(1));
  return number % 10 === 0 ? "" : number % 2 === 0 ? "a" : "b";
};

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "meridional-own-"));
  const [header, ...lines] = (await readFile("data/children/children.csv", "utf8"))
    .trim()
    .split(/\r?\n/);
  const rows = lines.map((line) => `${line},${groupOf(line.split(",")[0]!)}`);
  await writeFile(join(folder, "children.csv"), `${[`${header},group`, ...rows].join("\n")}\n`);
  const columns = JSON.parse(await readFile("data/children/columns.json", "utf8"));
  for (const block of columns.readings) block.own = { group: "group" };
  await writeFile(join(folder, "columns.json"), JSON.stringify(columns));
});
afterAll(() => rm(folder, { recursive: true }));

const run = (more: object) => runStudy(defineProtocol({ ...protocol, ...more }), { folder });

it("takes own columns as subgroups, in agreement, accuracy and the report", async () => {
  const result = await run({ subgroups: [{ by: "own", column: "group" }] });
  const [grouping] = result.agreement.find(({ quantity }) => quantity === "M")!.subgroups;
  expect(grouping!.by).toBe("group");
  expect(grouping!.groups.map(({ group }) => group)).toEqual(["a", "b", "not stated"]);
  const sum = grouping!.groups.reduce((all, { eyes }) => all + eyes, 0);
  expect(sum).toBe(538);
  const [accuracy] = result.conditions[0]!.subgroups;
  expect(accuracy!.by).toBe("group");
  const text = reportMarkdown(studyReport(result));
  expect(text).toMatch(/\| group +\|/);
  // what makes groups is described
  expect(text).toMatch(/\| group: a \| \d+ \(/);
  expect(text).toMatch(/\| group: not stated \| \d+ \(/);
});

it("the baseline table has an own column, or groups by it, where the protocol says so", async () => {
  const plain = await run({ subgroups: [] });
  expect(JSON.stringify(plain.baseline)).not.toContain("group: ");
  const grouped = await run({ subgroups: [], baseline: { by: "group" } });
  expect(grouped.baseline.columns.map(({ label }) => label)).toEqual([
    ...["Characteristic", "All", "a", "b", "not stated"],
  ]);
  const [all, ...parts] = grouped.baseline.rows[0]!.cells.slice(1) as number[];
  expect(parts.reduce((sum, one) => sum + one)).toBe(all);
  await expect(run({ subgroups: [], baseline: { own: ["grup"] } })).rejects.toThrow(
    'got "grup"; did you mean "group"?',
  );
});

it("for the public an own column makes no baseline table", async () => {
  const baseline = { own: ["group"], by: "group" };
  const result = await run({ audience: "public", subgroups: [], baseline });
  const text = reportMarkdown(studyReport(result));
  expect(text).toContain("The baseline table");
  expect(text).not.toMatch(/\| group: |Characteristic/);
});

it("takes own columns as eligibility; who has no value is not eligible", async () => {
  const { flow } = await run({ subgroups: [], eligibility: { own: { group: ["a"] } } });
  const box = flow.boxes.find(({ id }) => id === "not-eligible");
  expect(box?.label).toBe("Not eligible");
  const eligible = flow.boxes.find(({ id }) => id === "eligible")!;
  expect(eligible.children + box!.children).toBe(flow.boxes[0]!.children);
  expect(eligible.children).toBeGreaterThan(200);
  expect(box!.children).toBeGreaterThan(300);
});

it("a column that no mapping names is an error with the cure", async () => {
  await expect(run({ subgroups: [{ by: "own", column: "grup" }] })).rejects.toThrow(
    'requires own columns of words for subgroups and strata, got "grup"; did you mean "group"?',
  );
});
