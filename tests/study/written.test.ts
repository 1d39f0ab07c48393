import { type ChildProcess, spawn } from "node:child_process";
import { createHash } from "node:crypto";
import { copyFile, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { defineProtocol } from "../../src/protocol/index.js";
import { draftStudy, reproduceStudy, runStudy, writeReport } from "../../src/study/index.js";

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "meridional-written-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const protocolOf = async (name: string) =>
  defineProtocol(JSON.parse(await readFile(`data/${name}/protocol.json`, "utf8")));

/** Every file of a written report, by path, checked against its manifest. */
async function checkedFiles(report: string): Promise<string[]> {
  const manifest = JSON.parse(await readFile(join(report, "manifest.json"), "utf8"));
  for (const [path, hash] of Object.entries(manifest.files)) {
    const bytes = await readFile(join(report, path));
    expect(createHash("sha256").update(bytes).digest("hex"), path).toBe(hash);
  }
  return Object.keys(manifest.files);
}

describe("writeReport", () => {
  it("writes equal bytes twice, but for the manifest", async () => {
    const protocol = await protocolOf("children");
    const hashes = [];
    for (const name of ["first", "second"]) {
      const result = await runStudy(protocol, { folder: "data/children" });
      await writeReport(result, join(folder, name));
      hashes.push(JSON.parse(await readFile(join(folder, name, "manifest.json"), "utf8")).files);
    }
    expect(hashes[1]).toEqual(hashes[0]);
  });

  it("refuses a folder that it did not write", async () => {
    const result = await runStudy(await protocolOf("children"), { folder: "data/children" });
    const own = await mkdtemp(join(folder, "own-"));
    await writeFile(join(own, "thesis.txt"), "years of work");
    await expect(writeReport(result, own)).rejects.toThrow(
      /does not exist or that it wrote itself/,
    );
    expect(await readdir(own)).toEqual(["thesis.txt"]);
  });

  it("killed at any moment, leaves the old report or the new one, never half", async () => {
    const report = join(folder, "killed");
    const script = `
      import { readFileSync } from "node:fs";
      const { defineProtocol, runStudy, writeReport } = await import(${JSON.stringify(`${process.cwd()}/dist/index.js`)});
      const protocol = defineProtocol(JSON.parse(readFileSync("data/children/protocol.json", "utf8")));
      const result = await runStudy(protocol, { folder: "data/children" });
      for (;;) await writeReport(result, ${JSON.stringify(report)});`;
    const start = () =>
      spawn(process.execPath, ["--input-type=module", "-e", script], { stdio: "ignore" });
    const ended = (child: ChildProcess) => new Promise((done) => child.on("exit", done));
    let writer = start();
    for (let tries = 0; tries < 400; tries++) {
      if ((await readdir(folder)).includes("killed")) break;
      await new Promise((done) => setTimeout(done, 50));
    }
    for (const wait of [0, 120, 333, 571, 800]) {
      await new Promise((done) => setTimeout(done, wait));
      writer.kill("SIGKILL");
      await ended(writer);
      expect((await checkedFiles(report)).length).toBeGreaterThan(10);
      writer = start();
      await new Promise((done) => setTimeout(done, 1500));
    }
    writer.kill("SIGKILL");
    await ended(writer);
    // the next report clears what the killed ones left behind
    await writeReport(
      await runStudy(await protocolOf("children"), { folder: "data/children" }),
      report,
    );
    const left = (await readdir(folder)).filter((name) => name.startsWith(".killed-"));
    expect(left.length).toBe(1);
  });
});

describe("reproduceStudy", () => {
  it("finds the same, then every changed digit, input and file", async () => {
    const sources = await mkdtemp(join(folder, "sources-"));
    for (const name of ["children.csv", "columns.json", "protocol.json"]) {
      await copyFile(`data/children/${name}`, join(sources, name));
    }
    const report = join(folder, "reproduced");
    const result = await runStudy(await protocolOf("children"), { folder: sources });
    await writeReport(result, report, {
      sources: { folder: sources, files: ["children.csv", "columns.json"] },
    });
    expect(await reproduceStudy(report)).toEqual({
      kind: "reproduction",
      same: true,
      changedInputs: [],
      alteredFiles: [],
      differences: [],
    });
    const csv = await readFile(join(sources, "children.csv"), "utf8");
    await writeFile(
      join(sources, "children.csv"),
      csv.replace("-2.0,-2.5,17.0", "-2.25,-2.5,17.0"),
    );
    await writeFile(join(report, "report.md"), "altered");
    const found = await reproduceStudy(report);
    expect(found.same).toBe(false);
    expect(found.changedInputs).toEqual(["children.csv"]);
    expect(found.alteredFiles).toEqual(["report.md"]);
    expect(found.differences.map(({ path }) => path)).toContain("agreement[0].limits.bias.value");
  });
});

describe("draftStudy", () => {
  it("proposes a protocol that is valid and says what to look at", async () => {
    const files = await draftStudy({
      readings: "data/demo/invented-readings.csv",
      findings: "data/demo/invented-findings.csv",
      folder: "data/demo",
    });
    const protocol = defineProtocol(files["protocol.json"]);
    expect(protocol.sources.readings.file).toBe("invented-readings.csv");
    expect(JSON.stringify(files["columns.json"])).toContain('"subject":"study_id"');
    expect(JSON.stringify(files["columns.json"])).toContain(
      '"right":{"sphere":"R_sphere","cylinder":"R_cyl","axis":"R_axis"}',
    );
    const text = JSON.stringify(files["protocol.json"]);
    expect(text.match(/"note":/g)?.length).toBeGreaterThan(6);
    // it says that a rule may stand where it proposes a limit
    expect(text).toContain("published rule");
    expect(text).toContain('\\"kind\\": \\"rule\\"');
  });
});

describe("the public report of the demo programme", () => {
  it("holds no id, date, prescription or small count outside the confidential folder", async () => {
    const report = join(folder, "demo");
    const result = await runStudy(await protocolOf("demo"), { folder: "data/demo" });
    await writeReport(result, report);
    const paths = await checkedFiles(report);
    expect(paths).toContain("confidential/result.json");
    const open = paths.filter((path) => /\.(html|md|csv|svg)$/.test(path));
    for (const path of open) {
      const text = await readFile(join(report, path), "utf8");
      expect(text, path).not.toMatch(/D\d{5}\b/);
      expect(text, path).not.toMatch(/\b(19|20)\d\d-\d\d-\d\d\b/);
      expect(text, path).not.toMatch(/[+-]\d+\.\d\d [+-]\d+\.\d\d x \d{1,3}/);
    }
    // each pair of neighbouring stops of the threshold bench differs by 0 or at least 11, per class
    const page = await readFile(join(report, "report.html"), "utf8");
    const tables = [...page.matchAll(/"table":(\{"truePositive":[^}]*\})/g)].map(([, json]) =>
      JSON.parse(json),
    );
    expect(tables.length).toBeGreaterThan(3);
    const total = tables[0].truePositive + tables[0].falseNegative;
    const edges = [
      { truePositive: 0, falsePositive: 0 },
      ...tables,
      { truePositive: total, falsePositive: tables[0].falsePositive + tables[0].trueNegative },
    ];
    for (let at = 1; at < edges.length; at++) {
      for (const key of ["truePositive", "falsePositive"] as const) {
        const between = edges[at][key] - edges[at - 1][key];
        expect(between === 0 || between >= 11, `${key} ${between}`).toBe(true);
      }
    }
    // partial verification: corrected, never naive
    const corrected = result.conditions[0].verification?.corrected;
    expect(corrected?.sensitivity.kind).toBe("estimate");
    expect(result.conditions[0].accuracy.sensitivity.kind).toBe("undefined");
  });
});
