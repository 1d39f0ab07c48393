import { createHash } from "node:crypto";
import { mkdtemp, readdir, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, relative } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { defineProtocol } from "../../src/protocol/index.js";
import { runStudy, writeReport } from "../../src/study/index.js";

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "meridional-identical-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

/** SHA-256 of every file of a report, by path, from the disk; the manifest apart. */
async function hashesOf(report: string): Promise<Record<string, string>> {
  const entries = await readdir(report, { recursive: true, withFileTypes: true });
  const hashes: Record<string, string> = {};
  for (const entry of entries.filter((item) => item.isFile())) {
    const path = join(entry.parentPath, entry.name);
    if (entry.name === "manifest.json") continue;
    const hash = createHash("sha256").update(await readFile(path));
    hashes[relative(report, path)] = hash.digest("hex");
  }
  return hashes;
}

describe.each(["children", "demo"])("the %s study", (name) => {
  it("writes equal files with one worker and with two, and twice with one seed", async () => {
    const json = JSON.parse(await readFile(`data/${name}/protocol.json`, "utf8"));
    json.conditions[0].choose = { criterion: "youden" };
    const run = (workers: number, seed: number) =>
      runStudy(defineProtocol({ ...json, replicates: 60, seed }), {
        folder: `data/${name}`,
        workers,
      });
    const write = async (label: string, workers: number) => {
      const report = join(folder, `${name}-${label}`);
      await writeReport(await run(workers, 7), report);
      return hashesOf(report);
    };
    const first = await write("first", 1);
    expect(Object.keys(first)).toEqual(expect.arrayContaining(["report.docx", "report.pdf"]));
    expect(Object.keys(first).length).toBeGreaterThan(20);
    expect(await write("two", 2)).toEqual(first);
    expect(await write("again", 1)).toEqual(first);
    // another seed moves the resampled numbers: the comparison can fail
    const [own, other] = [await run(1, 7), await run(1, 8)].map(({ conditions }) => conditions[0]);
    expect(own.chosen?.corrected).toBeDefined();
    expect(other.chosen?.corrected).not.toEqual(own.chosen?.corrected);
  });
});
