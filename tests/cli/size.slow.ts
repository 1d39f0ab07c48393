import { execFile } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, expect, it } from "vitest";

// The command as it is built (dist), each time a process of its own.
const folder = mkdtempSync(join(tmpdir(), "size-"));
afterAll(() => rmSync(folder, { recursive: true }));
const plan = "data/plans/invented-accuracy.json";

function size(...rest: string[]) {
  return new Promise<{ code: number; out: string; error: string }>((resolve) => {
    execFile(process.execPath, ["dist/cli/main.js", "size", ...rest], (failed, out, error) =>
      resolve({ code: failed === null ? 0 : Number(failed.code), out, error }),
    );
  });
}

it("the numbers, the assumptions and the caution", async () => {
  const { code, out } = await size(plan);
  expect(code).toBe(0);
  expect(out).toContain("1960 children to screen");
  expect(out).toContain("neither chosen nor enriched");
  expect(out).toContain("Research use only");
  const json = JSON.parse((await size(plan, "--json")).out);
  expect(json).toMatchObject({ kind: "accuracy-plan", n: 1960 });
  const csv = await size(plan, "--format", "csv");
  expect(csv.out).toMatch(/^children screened,/);
  expect(csv.out).toContain("Research use only");
});

it("no number is enough: exit code 1, with the reason", async () => {
  const path = join(folder, "none.json");
  const study = { kind: "agreement", expected: { sd: 1 }, aim: { within: 1, power: 0.8 } };
  writeFileSync(path, JSON.stringify(study));
  const { code, out } = await size(path);
  expect(code).toBe(1);
  expect(out).toContain("do not lie within");
});

it.each([
  ["{", /requires JSON in .*plan\.json/],
  ["{}", /requires a kind.*got none/],
  ['{"kind":"area","expected":{"area":2,"prevalence":0.1},"aim":{"halfWidth":0.1}}', /area.*got 2/],
])("a faulty plan in one line: %j", async (text, message) => {
  const path = join(folder, "plan.json");
  writeFileSync(path, text);
  const { code, out, error } = await size(path);
  expect([code, out]).toEqual([1, ""]);
  expect(error.trim()).toMatch(message);
  expect(error.trim().split("\n")).toHaveLength(1);
});

it("no file, and wrong usage", async () => {
  expect((await size(join(folder, "nothing.json"))).error).toContain("got no readable");
  expect((await size()).code).toBe(2);
});
