// What is read back of a report or a notebook: whole as it was written, or refused in words, whatever was changed in it.
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { createRandom } from "../../src/inference/index.js";
import { readNotebook } from "../../src/notebook/runner.js";
import { defineProtocol } from "../../src/protocol/index.js";
import { InputError } from "../../src/results/index.js";
import {
  compareReleases,
  readStudyResult,
  reproduceStudy,
  runStudy,
  studyReport,
  writeReport,
} from "../../src/study/index.js";

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "meridional-read-back-"));
  for (const audience of ["journal", "public"]) {
    const json = JSON.parse(await readFile("data/children/protocol.json", "utf8"));
    const protocol = defineProtocol({ ...json, replicates: 40, audience, outputs: ["markdown"] });
    const result = await runStudy(protocol, { folder: "data/children" });
    await writeReport(result, join(folder, audience), {
      sources: { folder: "data/children", files: [] },
    });
  }
});
afterAll(() => rm(folder, { recursive: true, force: true }));

type Path = (string | number)[];

/** Every place in JSON, a few of each list. */
function placesIn(value: unknown, path: Path = []): Path[] {
  if (typeof value !== "object" || value === null) return [path];
  const keys: (string | number)[] = Array.isArray(value)
    ? [0, 1, value.length - 1].filter(
        (at, i, all) => at >= 0 && at < value.length && all.indexOf(at) === i,
      )
    : Object.keys(value);
  return [path, ...keys.flatMap((key) => placesIn((value as never)[key], [...path, key]))];
}

const wrong: unknown[] = [null, true, "word", -1, 1e300, [], {}, [null], { kind: "other" }];

function changed(json: unknown, path: Path, value: unknown): unknown {
  const copy = structuredClone(json);
  if (path.length === 0) return value;
  let at: never = copy as never;
  for (const step of path.slice(0, -1)) at = at[step];
  if (value === undefined) delete at[path.at(-1)!];
  else (at as { [key: string]: unknown })[path.at(-1)!] = value;
  return copy;
}

/** Writes a file with one place of it changed, many times, and says what else than words came of it. */
async function faultsOf(
  file: string,
  tries: number,
  read: () => Promise<unknown>,
): Promise<{ readonly refused: number; readonly faults: string[] }> {
  const text = await readFile(file, "utf8");
  const json: unknown = JSON.parse(text);
  const places = placesIn(json);
  const random = createRandom(3);
  const pick = <One>(list: readonly One[]) => list[Math.floor(random.uniform() * list.length)];
  const faults: string[] = [];
  let refused = 0;
  for (let at = 0; at < tries; at++) {
    const [path, value] = [pick(places), pick([undefined, ...wrong])];
    await writeFile(file, JSON.stringify(changed(json, path, value)) ?? "");
    try {
      await read();
    } catch (error) {
      if (error instanceof InputError) refused++;
      else faults.push(`${path.join(".")} = ${JSON.stringify(value)}: ${(error as Error).message}`);
    }
  }
  await writeFile(file, text);
  return { refused, faults };
}

describe("what is read back is whole, or refused in words", () => {
  it("the exact result of a study", async () => {
    const file = join(folder, "journal", "result.json");
    const read = async () => studyReport(await readStudyResult("tables", file));
    expect((await read()).sections.length).toBeGreaterThan(3);
    const { refused, faults } = await faultsOf(file, 150, read);
    expect(faults).toEqual([]);
    expect(refused).toBeGreaterThan(75);
  });

  it("the manifests of a report", async () => {
    const read = (name: string) => () => reproduceStudy(join(folder, name));
    for (const [name, own] of [
      ["journal", "journal"],
      ["public", "public"],
      ["public", "public-confidential"],
    ]) {
      const stop = join(folder, name === "public" ? "public-confidential" : name, "result.json");
      const result = await readFile(stop, "utf8");
      // the manifest is read first; the study need not be run again for each try
      await writeFile(stop, "{}");
      const { refused, faults } = await faultsOf(
        join(folder, own, "manifest.json"),
        60,
        read(name),
      );
      expect(faults).toEqual([]);
      expect(refused).toBe(60);
      await writeFile(stop, result);
    }
  });

  it("the children of a release", async () => {
    const file = join(folder, "public-confidential", "children.json");
    const read = () => compareReleases(join(folder, "public"), join(folder, "public"));
    const { refused, faults } = await faultsOf(file, 60, read);
    expect(faults).toEqual([]);
    expect(refused).toBeGreaterThan(20);
  });

  it("a notebook", async () => {
    const file = join(folder, "changed.ipynb");
    await writeFile(file, await readFile("notebooks/01-first-look.ipynb", "utf8"));
    const read = async () => readNotebook(file);
    const { refused, faults } = await faultsOf(file, 200, read);
    expect(faults).toEqual([]);
    expect(refused).toBeGreaterThan(50);
    await writeFile(file, '{"nbformat": 3, "worksheets": []}');
    expect(() => readNotebook(file)).toThrow(/nbformat 4.*cells requires a list/s);
  });
});
