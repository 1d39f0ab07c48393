// The built command: its codes, its help, and what the file system says.
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";

const main = resolve("dist/cli/main.js");
let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "meridional-program-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

function run(...words: string[]) {
  const { status, stdout, stderr } = spawnSync(process.execPath, [main, ...words], {
    encoding: "utf8",
    cwd: folder,
  });
  return { status, stdout, stderr };
}

describe("the program", () => {
  it("prints its version", () => {
    const { version } = JSON.parse(readFileSync("package.json", "utf8"));
    expect(run("--version")).toEqual({ status: 0, stdout: `${version}\n`, stderr: "" });
  });
  it("names the options of every command in the help of one, and the caution in its own", () => {
    const { status, stdout } = run("study", "--help");
    expect(status).toBe(0);
    expect(stdout).toMatch(/--json .*--trace /s);
    expect(run("--help").stdout).toContain("Research use only; not a medical device.");
  });
  it("ends with 2 for wrong usage and 1 for a mistake in the input", () => {
    expect(run("studdy")).toMatchObject({ status: 2, stdout: "" });
    expect(run("study", "gone.json")).toMatchObject({ status: 1, stdout: "" });
    expect(run("study", "gone.json").stderr).toMatch(
      /^meridional: study requires a protocol file, got no readable gone\.json; of JSON files there (is|are) .*\n$/,
    );
    expect(run("notebooks").stderr).toMatch(
      /^meridional: notebooks requires a folder notebooks\/ here, got none/,
    );
  });
  it("names the command beside what the file system says", () => {
    writeFileSync(join(folder, "file"), "");
    for (const name of ["readings.csv", "findings.csv"]) {
      writeFileSync(join(folder, name), "id,eye,sphere\na,OD,1\n");
    }
    const { status, stderr } = run("draft", "readings.csv", "findings.csv", "--out", "file/within");
    expect(status).toBe(1);
    expect(stderr).toMatch(/^meridional: draft: E[A-Z]+: [^\n]*\n$/);
  });
});
