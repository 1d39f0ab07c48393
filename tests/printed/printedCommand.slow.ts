import { execFile } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, expect, it } from "vitest";

// The command as it is built (dist), each time a process of its own.
const folder = mkdtempSync(join(tmpdir(), "printed-"));
afterAll(() => rmSync(folder, { recursive: true }));

function printed(...rest: string[]) {
  return new Promise<{ code: number; out: string; error: string }>((resolve) => {
    execFile(process.execPath, ["dist/cli/main.js", "printed", ...rest], (failed, out, error) =>
      resolve({ code: failed === null ? 0 : Number(failed.code), out, error }),
    );
  });
}

it("a table with everything reproduced: exit code 0, with the caution", async () => {
  const { code, out } = await printed("data/published/programmes.csv");
  expect(code).toBe(0);
  expect(out).toContain("33.1 to 66.3");
  expect(out).toContain("Research use only");
});

it("a table that does not fit: exit code 1; as JSON and as CSV", async () => {
  const json = await printed("data/published/agreement.csv", "--json");
  expect(json.code).toBe(1);
  const comparison = JSON.parse(json.out);
  expect(comparison.kind).toBe("printed-comparison");
  expect(comparison.notReproduced).toBe(2);
  const csv = await printed("data/published/agreement.csv", "--format", "csv");
  expect(csv.out).toMatch(/^number,printed,recomputed/);
  expect(csv.out).toContain("Research use only");
});

it.each([
  ["label,sens\nA,90", /requires columns among label, n, .*got "sens"/],
  ["label,n,sensitivity\nA,10,87;04", /row "A".*87;04/],
  ["", /empty text/],
])("broken input in one line: %j", async (text, message) => {
  const path = join(folder, "table.csv");
  writeFileSync(path, text);
  const { code, out, error } = await printed(path);
  expect(code).toBe(1);
  expect(out).toBe("");
  expect(error.trim()).toMatch(message);
  expect(error.trim().split("\n")).toHaveLength(1);
});

it("no file", async () => {
  const { code, error } = await printed(join(folder, "none.csv"));
  expect(code).toBe(1);
  expect(error).toContain("got no readable");
});
