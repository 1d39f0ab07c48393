import { execFileSync } from "node:child_process";
import { createHash } from "node:crypto";
import { mkdtempSync, renameSync, utimesSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import {
  readJsonFile,
  readSmallFile,
  whileSame,
  whileUnchanged,
} from "../../src/platform/index.js";

const folder = mkdtempSync(join(tmpdir(), "input-"));
const path = join(folder, "a.csv");
const sha256 = (text: string) => createHash("sha256").update(text).digest("hex");

describe("a file that is read", () => {
  it("has the hash of the bytes that were read", async () => {
    writeFileSync(path, "one\n");
    const { result, inputs } = await whileUnchanged("study", [path, path], async () => 7);
    expect(result).toBe(7);
    expect([...inputs]).toEqual([[path, sha256("one\n")]]);
  });

  it.each([
    ["written to", () => writeFileSync(path, "two\n")],
    [
      "written to with the same length and time",
      () => {
        writeFileSync(path, "six\n");
        utimesSync(path, 1000, 1000);
      },
    ],
    [
      "replaced",
      () => {
        writeFileSync(`${path}.new`, "one\n");
        renameSync(`${path}.new`, path);
      },
    ],
  ])("is refused when it is %s meanwhile", async (_, change) => {
    writeFileSync(path, "one\n");
    utimesSync(path, 1000, 1000);
    const work = async () => change();
    await expect(whileUnchanged("study", [path], work)).rejects.toThrow(
      "study requires files that stay as they are while they are read, got a change of a.csv",
    );
    await expect(whileSame("study", [path], async () => change())).rejects.toThrow("a.csv");
  });

  it("is left to the work where there is none", async () => {
    const { inputs } = await whileUnchanged("study", [join(folder, "none.csv")], async () => 1);
    expect(inputs.size).toBe(0);
  });
});

describe("a small file", () => {
  it("is no pipe and no device", async () => {
    const pipe = join(folder, "pipe");
    execFileSync("mkfifo", [pipe]);
    await expect(readSmallFile(pipe, "study")).rejects.toThrow("which is a pipe or a device");
    await expect(readSmallFile("/dev/zero", "study")).rejects.toThrow(
      "which is a pipe or a device",
    );
  });

  it("is null where there is none, or a folder", async () => {
    expect(await readSmallFile(join(folder, "none"), "study")).toBeNull();
    expect(await readSmallFile(folder, "study")).toBeNull();
  });

  it("is JSON of an object", async () => {
    writeFileSync(path, "[1]");
    expect(await readJsonFile(path, "size", "a plan")).toEqual([1]);
    writeFileSync(path, "5");
    await expect(readJsonFile(path, "size", "a plan")).rejects.toThrow(
      "requires an object in braces",
    );
    writeFileSync(path, "{");
    await expect(readJsonFile(path, "size", "a plan")).rejects.toThrow("size requires JSON in");
    await expect(readJsonFile(folder, "size", "a plan")).rejects.toThrow(
      "size requires a plan, got no readable",
    );
  });
});
