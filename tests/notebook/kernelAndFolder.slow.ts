import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { isAbsolute, join, resolve } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { defineColumns } from "../../src/cohort/defineColumns.js";
import { defineProtocol } from "../../src/protocol/index.js";

const root = resolve(import.meta.dirname, "../..");
let place: string;
beforeAll(() => {
  mkdirSync(join(root, "out"), { recursive: true });
  place = mkdtempSync(join(root, "out", "folder-"));
});
afterAll(() => rmSync(place, { recursive: true }));

function meridional(...parameters: string[]) {
  const main = join(root, "dist/cli/main.js");
  const { status, stdout, stderr } = spawnSync(process.execPath, [main, ...parameters], {
    cwd: place,
    env: { ...process.env, JUPYTER_DATA_DIR: join(place, "jupyter") },
  });
  return { status, stdout: stdout.toString(), stderr: stderr.toString() };
}

describe("meridional kernel", () => {
  it("writes a kernel of absolute paths into the user's Jupyter folder", () => {
    const { status, stdout } = meridional("kernel", "--json");
    expect(status).toBe(0);
    const { folder } = JSON.parse(stdout);
    expect(folder).toBe(join(place, "jupyter", "kernels", "meridional"));
    const { argv, language } = JSON.parse(readFileSync(join(folder, "kernel.json"), "utf8"));
    expect(language).toBe("typescript");
    expect(argv.slice(2)).toEqual(["{connection_file}"]);
    for (const path of argv.slice(0, 2)) expect(isAbsolute(path) && existsSync(path)).toBe(true);
  });
});

describe("meridional folder", () => {
  it("makes a project whose protocol and mappings are valid and whose data are invented", () => {
    expect(meridional("folder", "own-study").status).toBe(0);
    const read = (name: string) => readFileSync(join(place, "own-study", name), "utf8");
    const json = (name: string) => JSON.parse(read(name));
    const { sources } = defineProtocol(json("protocol.json"));
    for (const { file, columns } of [sources.readings, sources.findings]) {
      expect(file).toMatch(/invented/);
      expect(read(file).split("\n").length).toBe(802);
      expect(defineColumns(json(columns as string)).kind).toBe("columns");
    }
    expect(read("data/.gitignore")).toBe("*\n!.gitignore\n!README.md\n");
    expect(read("README.md")).toContain("npm run clear");
    expect(json("package.json").overrides).toEqual(
      JSON.parse(readFileSync(join(root, "package.json"), "utf8")).overrides,
    );
    for (const file of ["package.json", "README.md", "protocol.json"]) {
      expect(read(file)).not.toContain(root);
    }
  });

  it("copies a notebook of the package with the data that it reads", () => {
    const { status } = meridional("folder", "with-survey", "--notebook", "02-power-vectors");
    expect(status).toBe(0);
    const there = (name: string) => existsSync(join(place, "with-survey", name));
    expect(there("notebooks/02-power-vectors.ipynb")).toBe(true);
    expect(there("data/survey/columns.json")).toBe(true);
    expect(there("data/survey/README.md")).toBe(true);
    expect(there("data/demo")).toBe(false);
    expect(meridional("folder", "none", "--notebook", "02-power-vector").stderr).toContain(
      'folder requires a notebook of the package, got "02-power-vector"; did you mean "02-power-vectors"?',
    );
    expect(existsSync(join(place, "none"))).toBe(false);
  });

  it("refuses a folder that exists, and a name that npm would refuse", () => {
    mkdirSync(join(place, "there"));
    expect(meridional("folder", "there")).toMatchObject({
      status: 1,
      stderr: "meridional: folder requires a new folder, got there\n",
    });
    expect(meridional("folder", "Own Study").status).toBe(1);
  });
});
