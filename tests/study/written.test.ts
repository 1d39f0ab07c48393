import { type ChildProcess, spawn } from "node:child_process";
import { createHash } from "node:crypto";
import { copyFile, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import Zip from "jszip";
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

  it("writes the forms that the protocol names, and two tables of one title apart", async () => {
    const json = JSON.parse(await readFile("data/children/protocol.json", "utf8"));
    json.outputs = ["markdown"];
    json.subgroups = [
      { by: "age", edgesYears: [8] },
      { by: "age", edgesYears: [12] },
    ];
    const result = await runStudy(defineProtocol(json), { folder: "data/children" });
    await writeReport(result, join(folder, "some"));
    const paths = await checkedFiles(join(folder, "some"));
    expect(paths.filter((path) => path.startsWith("report."))).toEqual(["report.md"]);
    const tables = ["", "-2"].map((copy) => `tables/agreement-of-m-by-age-exploratory${copy}.csv`);
    const texts = await Promise.all(
      tables.map((path) => readFile(join(folder, "some", path), "utf8")),
    );
    expect(texts[0]).toContain("below 8 years");
    expect(texts[1]).toContain("below 12 years");
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
    const writer = running(`
      import { readFileSync } from "node:fs";
      const { defineProtocol, runStudy, writeReport } = await import(${JSON.stringify(`${process.cwd()}/dist/index.js`)});
      const protocol = defineProtocol(JSON.parse(readFileSync("data/children/protocol.json", "utf8")));
      const result = await runStudy(protocol, { folder: "data/children" });
      for (;;) await writeReport(result, ${JSON.stringify(report)});`);
    for (let tries = 0; tries < 800; tries++) {
      if ((await readdir(folder)).includes("killed")) break;
      await pause(50);
    }
    await kill(writer);
    await expectWholeReport(report);

    // from here on nothing but the writing of two reports that differ in every file, in turn
    const program = `
      import { readFileSync, readdirSync } from "node:fs";
      import { createHash } from "node:crypto";
      import { join } from "node:path";
      const { replaceFolder } = await import(${JSON.stringify(`${process.cwd()}/dist/study/publish/replaceFolder.js`)});
      const own = ${JSON.stringify(join(folder, "first"))};
      const manifest = JSON.parse(readFileSync(join(own, "manifest.json"), "utf8"));
      const read = (path) => readFileSync(join(own, path));
      const one = new Map(Object.keys(manifest.files).map((path) => [path, read(path)]));
      const two = new Map([...one].map(([path, bytes]) => [path, Buffer.concat([bytes, Buffer.from("\\n")])]));
      const hash = (bytes) => createHash("sha256").update(bytes).digest("hex");
      for (const files of [one, two]) {
        const hashes = Object.fromEntries([...files].map(([path, bytes]) => [path, hash(bytes)]));
        files.set("manifest.json", JSON.stringify({ ...manifest, files: hashes }));
      }
      for (;;) for (const files of [one, two]) await replaceFolder(${JSON.stringify(report)}, files);`;
    let halfWritten = 0;
    for (const wait of [0, 3, 7, 11, 17, 23, 31, 43, 59, 83]) {
      const busy = running(program);
      for (let tries = 0; tries < 2000; tries++) {
        // a second hidden folder: the next report is being written
        if (hidden(await readdir(folder)).length > 1) break;
        await pause(2);
      }
      await pause(wait);
      await kill(busy);
      if (hidden(await readdir(folder)).length > 1) halfWritten++;
      await expectWholeReport(report);
    }
    expect(halfWritten).toBeGreaterThan(2);
    // the next report clears what the killed ones left behind
    await writeReport(
      await runStudy(await protocolOf("children"), { folder: "data/children" }),
      report,
    );
    expect(hidden(await readdir(folder))).toHaveLength(1);
  }, 180_000);
});

const running = (program: string) =>
  spawn(process.execPath, ["--input-type=module", "-e", program], { stdio: "ignore" });
const pause = (ms: number) => new Promise((done) => setTimeout(done, ms));
const hidden = (names: readonly string[]) => names.filter((name) => name.startsWith(".killed-"));

async function kill(child: ChildProcess): Promise<void> {
  const ended = new Promise((done) => child.on("exit", done));
  child.kill("SIGKILL");
  await ended;
}

/** All files of one report, Word and PDF among them, as its manifest says. */
async function expectWholeReport(report: string): Promise<void> {
  const files = await checkedFiles(report);
  expect(files).toEqual(expect.arrayContaining(["report.html", "report.docx", "report.pdf"]));
  await Zip.loadAsync(await readFile(join(report, "report.docx")), { checkCRC32: true });
  const pdf = await readFile(join(report, "report.pdf"), "latin1");
  expect(pdf.trimEnd().endsWith("%%EOF")).toBe(true);
}

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
      '"right":{"sphere":"R_sphere","cylinder":"R_cyl","axis":"R_axis","day":"visit_day"}',
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
