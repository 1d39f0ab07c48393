import { copyFile, mkdtemp, readdir, readFile, rm, stat, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { defineProtocol } from "../../src/protocol/index.js";
import {
  confidentialFolder,
  draftStudy,
  reproduceStudy,
  runStudy,
  writeReport,
} from "../../src/study/index.js";
import { bibtexEntries } from "../builders/bibtexEntries.js";
import { checkedFiles } from "../builders/writtenReport.js";

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "meridional-written-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

/** With few replicates: nothing here depends on how many. */
const protocolOf = async (name: string, changes: object = {}) => {
  const json = JSON.parse(await readFile(`data/${name}/protocol.json`, "utf8"));
  return defineProtocol({ ...json, replicates: 60, ...changes });
};

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

  it("keeps the page under 700 kB without its tables", async () => {
    const html = await readFile(join(folder, "first", "report.html"), "utf8");
    const tables = html.match(/<table>[\s\S]*?<\/table>/g) ?? [];
    expect(tables.length).toBeGreaterThan(10);
    const rest = tables.reduce((text, table) => text.replace(table, ""), html);
    expect(Buffer.byteLength(rest)).toBeLessThan(700_000);
    // what a report cites was looked up
    expect(html).not.toMatch(/from memory|\brecalled\b/i);
  });

  it("says what to cite as BibTeX: by the result for a journal, by the report alone for the public", async () => {
    const keys: { [audience: string]: string[] } = {};
    for (const audience of ["journal", "public"]) {
      const protocol = await protocolOf("children", { audience });
      const result = await runStudy(protocol, { folder: "data/children" });
      await writeReport(result, join(folder, `cited-${audience}`));
      const text = await readFile(join(folder, `cited-${audience}`, "references.bib"), "utf8");
      keys[audience] = bibtexEntries(text).map(({ key }) => key);
    }
    const named = [
      "meridional",
      "thibos1997",
      "bland1986",
      "bland1999",
      "carkeet2015",
      "wilson1927",
    ];
    for (const key of named) {
      expect(keys.journal).toContain(key);
      expect(keys.public).toContain(key);
    }
    expect(keys.journal![0]).toBe("meridional");
    // bands of limits, as only the exact result tells
    expect(keys.journal).toContain("scheffe1953");
    expect(keys.public).not.toContain("scheffe1953");
  });

  it("writes the forms that the protocol names, two tables of one title apart, into no folder of others", async () => {
    const subgroups = [
      { by: "age", edgesYears: [8] },
      { by: "age", edgesYears: [12] },
    ];
    const protocol = await protocolOf("children", { outputs: ["markdown"], subgroups });
    const result = await runStudy(protocol, { folder: "data/children" });
    await writeReport(result, join(folder, "some"));
    const paths = await checkedFiles(join(folder, "some"));
    expect(paths.filter((path) => path.startsWith("report."))).toEqual(["report.md"]);
    const tables = ["", "-2"].map((copy) => `tables/agreement-of-m-by-age-exploratory${copy}.csv`);
    const texts = await Promise.all(
      tables.map((path) => readFile(join(folder, "some", path), "utf8")),
    );
    expect(texts[0]).toContain("below 8 years");
    expect(texts[1]).toContain("below 12 years");

    // a folder that it did not write is refused
    const own = await mkdtemp(join(folder, "own-"));
    await writeFile(join(own, "thesis.txt"), "years of work");
    await expect(writeReport(result, own)).rejects.toThrow(
      /does not exist or that it wrote itself/,
    );
    expect(await readdir(own)).toEqual(["thesis.txt"]);
  });
});

describe("reproduceStudy", () => {
  it("finds the same, then every changed digit, input and file", async () => {
    const sources = await mkdtemp(join(folder, "sources-"));
    for (const name of ["children.csv", "columns.json", "protocol.json"]) {
      await copyFile(`data/children/${name}`, join(sources, name));
    }
    const report = join(folder, "reproduced");
    const protocol = await protocolOf("children", { outputs: ["markdown"] });
    const result = await runStudy(protocol, { folder: sources });
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
    const { files } = await draftStudy({
      readings: "data/demo/invented-readings.csv",
      findings: "data/demo/invented-findings.csv",
      folder: "data/demo",
    });
    const protocol = defineProtocol(files["protocol.json"]);
    expect(protocol.sources.readings.file).toBe("invented-readings.csv");
    // the mapping that lies beside the files is taken over
    expect(files["columns.json"]).toMatchObject({
      $schema: "./columns.schema.json",
      columns: { subject: "study_id" },
      readings: [{ range: [-7.5, 7.5] }],
    });
    const text = JSON.stringify(files["protocol.json"]);
    expect(text.match(/"note":/g)?.length).toBeGreaterThan(6);
    // it says that a rule may stand where it proposes a limit
    expect(text).toContain("published rule");
    expect(text).toContain('\\"kind\\": \\"rule\\"');
  });
});

describe("a public report", () => {
  it("keeps the exact result and the names of the inputs in a folder beside it", async () => {
    const report = join(folder, "open");
    const protocol = await protocolOf("children", { outputs: ["markdown"], audience: "public" });
    await writeReport(await runStudy(protocol, { folder: "data/children" }), report);
    const files = await readdir(report, { recursive: true });
    expect(files.filter((name) => /result|confidential/.test(name))).toEqual([]);
    // the manifest that is passed on names no input, no folder and no hash but the protocol's
    const manifest = JSON.parse(await readFile(join(report, "manifest.json"), "utf8"));
    expect(Object.keys(manifest).sort()).toEqual(
      ["kind", "meridional", "node", "protocolHash", "run", "written"].sort(),
    );
    const apart = confidentialFolder(report);
    const modeOf = async (path: string) => (await stat(path)).mode & 0o777;
    expect(await modeOf(apart)).toBe(0o700);
    expect(await modeOf(join(apart, "result.json"))).toBe(0o600);
    expect(await modeOf(join(apart, "manifest.json"))).toBe(0o600);
    const full = JSON.parse(await readFile(join(apart, "manifest.json"), "utf8"));
    expect(full.run).toBe(manifest.run);
    // of another run: named
    await writeFile(join(report, "manifest.json"), JSON.stringify({ ...manifest, run: "other" }));
    await expect(reproduceStudy(report)).rejects.toThrow(/to be of one run, got other and /);
    // the layout of before
    const before = { ...full, files: { "confidential/result.json": "" } };
    await writeFile(join(report, "manifest.json"), JSON.stringify(before));
    await expect(reproduceStudy(report)).rejects.toThrow(/the layout of before/);
  });
});
