import { spawnSync } from "node:child_process";
import { mkdir, mkdtemp, readFile, rm, stat, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { defineProtocol } from "../../src/protocol/index.js";
import { compareReleases, runStudy, writeReport } from "../../src/study/index.js";

// Two public reports of nearly the same children: the difference of their totals is a small count.
const { audience: _, ...columns } = JSON.parse(
  await readFile("data/children/columns.json", "utf8"),
);
const protocol = {
  ...JSON.parse(await readFile("data/children/protocol.json", "utf8")),
  audience: "public",
  outputs: ["markdown"],
  replicates: 40,
};
const csv = await readFile("data/children/children.csv", "utf8");
const [header, ...lines] = csv.trim().split("\n") as [string, ...string[]];
const cell = (line: string, name: string) => line.split(",")[header.split(",").indexOf(name)]!;
const children = [...new Set(lines.map((line) => cell(line, "subject_id")))];

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "meridional-releases-"));
});
afterAll(() => rm(folder, { recursive: true }));

/** A protocol over the first children of the file. */
async function study(name: string, count: number, more: object = {}): Promise<string> {
  const chosen = new Set(children.slice(0, count));
  const kept = lines.filter((line) => chosen.has(cell(line, "subject_id")));
  await writeFile(join(folder, `${name}.csv`), [header, ...kept, ""].join("\n"));
  const source = { file: `${name}.csv`, columns };
  const sources = { readings: source, findings: source };
  const path = join(folder, `${name}.json`);
  await writeFile(path, JSON.stringify({ ...protocol, ...more, sources }));
  return path;
}

/** A report of which only its children are known: numbers in place of hashes. */
async function madeUp(name: string, known: Span, compared = known, fewerThan = 11) {
  const of = ([from, to]: Span) => Array.from({ length: to - from }, (_, at) => `${from + at}`);
  const path = join(folder, "made-up", name);
  await mkdir(`${path}-confidential`, { recursive: true });
  const json = {
    kind: "released-children",
    version: 1,
    protocolHash: name,
    fewerThan,
    children: { known: of(known), eligible: of(known), compared: of(compared) },
  };
  await writeFile(join(`${path}-confidential`, "children.json"), JSON.stringify(json));
  return path;
}
type Span = readonly [from: number, to: number];

describe("compareReleases", () => {
  it("refuses 1 to 10 children in one alone, and tells any other overlap", async () => {
    const first = await madeUp("first", [0, 300]);
    for (const [from, to, verdict, overlap] of [
      [0, 300, "overlapping", "same"],
      [0, 301, "refused", "few"],
      [0, 310, "refused", "few"],
      [5, 305, "refused", "few"],
      [0, 311, "overlapping", "many"],
      [6, 305, "overlapping", "many"],
      [150, 450, "overlapping", "many"],
      [300, 304, "apart", "none"],
    ] as const) {
      const second = await madeUp("second", [from, to]);
      for (const pair of [
        [first, second],
        [second, first],
      ] as const) {
        const found = await compareReleases(...pair);
        expect([found.verdict, found.overlap.known]).toEqual([verdict, overlap]);
        // how many they are is not in the message, which may be passed on
        expect(found.message.match(/\d+/g) ?? []).toEqual(
          verdict === "refused" ? ["11", "1", "10"] : [],
        );
      }
    }
  });

  it("names the cure where the children are the same: one protocol with both limits", async () => {
    const first = await madeUp("first", [0, 300], [0, 200]);
    const same = await compareReleases(first, await madeUp("second", [0, 300], [0, 200]));
    expect(same.message).toContain("One report of one protocol, with the limits of both");
    // a subset of sites: other children compared, and 11 or more of them
    const subset = await compareReleases(first, await madeUp("second", [0, 300], [0, 120]));
    expect(subset.verdict).toBe("overlapping");
    expect(subset.message).toContain("Pass one of them on only where that matters.");
  });

  it("looks at the eligible and the compared as well, by the larger of two least counts", async () => {
    const first = await madeUp("first", [0, 300], [0, 200]);
    const fewer = await compareReleases(first, await madeUp("second", [0, 300], [0, 196]));
    expect(fewer).toMatchObject({
      verdict: "refused",
      overlap: { known: "same", compared: "few" },
    });
    expect(fewer.message).toContain("got 1 to 10 of the children with a reading and a finding");
    const twelve = await madeUp("second", [0, 312]);
    expect((await compareReleases(first, twelve)).verdict).toBe("overlapping");
    const stricter = await madeUp("second", [0, 312], [0, 312], 16);
    expect((await compareReleases(first, stricter)).message).toContain("got 1 to 15 of");
  });

  it("finds hashes in the confidential folder, for its owner alone, and none in the open one", async () => {
    const json = JSON.parse(
      await readFile(await study("own", 80, { eligibility: { ageMonths: [120, 240] } }), "utf8"),
    );
    const out = join(folder, "by-hand", "own");
    await writeReport(await runStudy(defineProtocol(json), { folder }), out);
    const path = join(`${out}-confidential`, "children.json");
    expect((await stat(path)).mode & 0o777).toBe(0o600);
    await expect(stat(join(out, "children.json"))).rejects.toThrow("ENOENT");
    const text = await readFile(path, "utf8");
    for (const child of children) expect(text).not.toContain(`"${child}"`);
    const { known, eligible, compared } = JSON.parse(text).children;
    const own = lines.filter((line) => children.indexOf(cell(line, "subject_id")) < 80);
    const old = own.filter((line) => Number(cell(line, "age_years")) >= 10);
    expect(known).toHaveLength(80);
    expect(eligible).toHaveLength(new Set(old.map((line) => cell(line, "subject_id"))).size);
    expect(eligible.length).toBeLessThan(80);
    const isMeasured = (line: string) =>
      ["screener_pre_sph", "screener_pre_cyl", "cyclo_sph", "cyclo_cyl"].every(
        (name) => cell(line, name) !== "",
      );
    const both = new Set(old.filter(isMeasured).map((line) => cell(line, "subject_id")));
    expect(compared).toHaveLength(both.size);
    await rm(path);
    await expect(compareReleases(out, out)).rejects.toThrow(
      "requires children.json in own-confidential, got none: run that study again",
    );
  });
});

describe("the command study", () => {
  it("compares with the reports beside it, before it writes anything", async () => {
    const run = async (name: string, count: number, ...more: string[]) => {
      const path = await study(name, count);
      const { status, stderr } = spawnSync(
        process.execPath,
        [resolve("dist/cli/main.js"), "study", path, "--out", `out/${name}`, ...more],
        { encoding: "utf8", cwd: folder },
      );
      return { status, stderr };
    };
    expect((await run("year", 60)).status).toBe(0);
    const few = await run("later", 64);
    expect(few.status).toBe(1);
    expect(few.stderr).toContain("the same as those of year, or differ by 11 or more");
    expect(few.stderr).toContain("delete the earlier report and its confidential folder");
    await expect(stat(join(folder, "out", "later"))).rejects.toThrow("ENOENT");
    // one that cannot be read is named
    await mkdir(join(folder, "out", "old-confidential"));
    await writeFile(join(folder, "out", "old-confidential", "children.json"), "{");
    const more = await run("later", 90, "--earlier", "out/year");
    expect(more.status).toBe(0);
    expect(more.stderr).toContain("Not compared with old: compareReleases requires children.json");
    expect(more.stderr.match(/Children of year are in this report as well/g)).toHaveLength(1);
  });
});
