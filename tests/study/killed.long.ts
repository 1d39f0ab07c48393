import { type ChildProcess, spawn } from "node:child_process";
import { mkdtemp, readdir, readFile, readlink, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import Zip from "jszip";
import { afterAll, beforeAll, expect, it } from "vitest";
import { defineProtocol } from "../../src/protocol/index.js";
import { runStudy, writeReport } from "../../src/study/index.js";
import { checkedFiles } from "../builders/writtenReport.js";

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "meridional-killed-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

it("writeReport, killed at any moment, leaves the old report or the new one, never half", async () => {
  const protocol = defineProtocol(
    JSON.parse(await readFile("data/children/protocol.json", "utf8")),
  );
  const result = await runStudy(protocol, { folder: "data/children" });
  await writeReport(result, join(folder, "kept"));
  const report = join(folder, "killed");
  const writer = running(`
    import { readFileSync } from "node:fs";
    const { defineProtocol, runStudy, writeReport } = await import(${JSON.stringify(`${process.cwd()}/dist/face.js`)});
    const protocol = defineProtocol(JSON.parse(readFileSync("data/children/protocol.json", "utf8")));
    const result = await runStudy(protocol, { folder: "data/children" });
    for (;;) await writeReport(result, ${JSON.stringify(report)});`);
  while (!(await readdir(folder)).includes("killed")) await pause(50);
  await kill(writer);
  await expectWholeReport(report);

  // from here on nothing but the writing of two reports that differ in every file, in turn
  const program = `
    import { readFileSync, readdirSync } from "node:fs";
    import { createHash } from "node:crypto";
    import { join } from "node:path";
    const { replaceFolder } = await import(${JSON.stringify(`${process.cwd()}/dist/platform/index.js`)});
    const own = ${JSON.stringify(join(folder, "kept"))};
    const manifest = JSON.parse(readFileSync(join(own, "manifest.json"), "utf8"));
    const read = (path) => readFileSync(join(own, path));
    const one = new Map(Object.keys(manifest.files).map((path) => [path, read(path)]));
    const two = new Map([...one].map(([path, bytes]) => [path, Buffer.concat([bytes, Buffer.from("\\n")])]));
    const hash = (bytes) => createHash("sha256").update(bytes).digest("hex");
    for (const files of [one, two]) {
      const hashes = Object.fromEntries([...files].map(([path, bytes]) => [path, hash(bytes)]));
      files.set("manifest.json", JSON.stringify({ ...manifest, files: hashes }));
    }
    for (;;) for (const files of [one, two]) await replaceFolder(${JSON.stringify(report)}, files, { caller: "writeReport" });`;
  let halfWritten = 0;
  for (const wait of [0, 3, 7, 11, 17, 23, 31, 43, 59, 83]) {
    const before = new Set(hidden(await readdir(folder)));
    const fresh = async () => hidden(await readdir(folder)).filter((name) => !before.has(name));
    const busy = running(program);
    // another hidden folder: a report is being written
    while ((await fresh()).length === 0) await pause(2);
    await pause(wait);
    await kill(busy);
    const current = await readlink(report);
    if ((await fresh()).some((name) => name !== current)) halfWritten++;
    await expectWholeReport(report);
  }
  expect(halfWritten).toBeGreaterThan(2);
  // the next report clears what the killed ones left behind
  await writeReport(result, report);
  expect(hidden(await readdir(folder))).toHaveLength(1);
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
