// What a mistake is told, before a long run where it can be known before.
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { Command } from "commander";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { commands } from "../../src/cli/commands.js";
import { defineProtocol } from "../../src/protocol/index.js";
import { runStudy } from "../../src/study/index.js";

const protocol = resolve("data/children/protocol.json");
const json = JSON.parse(readFileSync(protocol, "utf8"));
let folder: string;
const path = (name: string) => join(folder, name);
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "meridional-wrong-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

async function run(...words: string[]): Promise<void> {
  const program = new Command("meridional").option("--json").exitOverride();
  for (const register of commands) register(program);
  await program.parseAsync(words, { from: "user" });
}

describe("study", () => {
  it("refuses a file in the report's way before it reads anything", async () => {
    writeFileSync(path("file"), "mine");
    // the sources do not exist: they are not asked for
    const gone = path("protocol.json");
    writeFileSync(gone, JSON.stringify(json));
    await expect(run("study", gone, "--out", path("file"))).rejects.toThrow(
      "writeReport requires a folder that does not exist or that it wrote itself, got file",
    );
    await expect(run("study", gone, "--out", path("file/within"))).rejects.toThrow(
      `writeReport requires a folder to write in, got the file ${path("file")}`,
    );
    await expect(run("study", gone, "--out", path("new"))).rejects.toThrow("got no readable file");
    expect(readdirSync(folder).sort()).toEqual(["file", "protocol.json"]);
  });
  it("says where the eyes were left when nothing is paired", async () => {
    const study = (audience: string) =>
      runStudy(defineProtocol({ ...json, audience, eligibility: { ageYears: [70, 80] } }), {
        folder: "data/children",
      });
    await expect(study("journal")).rejects.toThrow(
      "runStudy requires eyes with a reading and a finding, got none of 1129; left out: not eligible by age 1129",
    );
  });
});

describe("a protocol", () => {
  it.each([
    ["eligibility", { ageMonths: [84, 36] }, "eligibility.ageMonths: the limits of age ascend"],
    ["eligibility", { ageYears: [7, 7] }, "eligibility.ageYears: the limits of age ascend"],
    ["linkage", { daysBetween: [90, 0] }, "linkage.daysBetween: the days from and to ascend"],
  ])("has no %s that leaves nobody: %j", (key, value, message) => {
    expect(() => defineProtocol({ ...json, [key]: value })).toThrow(message);
  });
});

describe("tables", () => {
  it.each([
    ["broken.json", "x", /^tables requires JSON in \S*broken\.json, got /],
    ["half.json", '{"kind":"study"}', /^tables requires the whole result of a study/],
  ])("names the fault of %s", async (name, text, message) => {
    writeFileSync(path(name), text);
    await expect(run("tables", path(name))).rejects.toThrow(message);
  });
});
