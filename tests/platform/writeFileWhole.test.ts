import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import {
  mkdtempSync,
  readdirSync,
  readFileSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { hostname, tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { fileStem, writeFileWhole } from "../../src/platform/index.js";

const caller = "aFunction";
const folder = () => mkdtempSync(join(tmpdir(), "platform-"));
/** A process that has ended, so that nobody has its number. */
const ended = () => spawnSync(process.execPath, ["-e", ""]).pid;

describe("writeFileWhole", () => {
  it("writes the file, whole, and nothing beside it", async () => {
    const place = folder();
    await writeFileWhole(join(place, "a.csv"), "subject\n1\n", { caller });
    await writeFileWhole(join(place, "a.csv"), "subject\n2\n", { caller });
    expect(readdirSync(place)).toEqual(["a.csv"]);
    expect(readFileSync(join(place, "a.csv"), "utf8")).toBe("subject\n2\n");
  });

  it("leaves the old file and nothing else where writing fails, with the cure", async () => {
    const place = folder();
    const path = join(place, "key.csv");
    writeFileSync(path, "old");
    const full = Object.assign(new Error("write failed"), { code: "ENOSPC" });
    const writing = writeFileWhole(
      path,
      async (file) => {
        await file.write("half of it");
        throw full;
      },
      { caller },
    );
    await expect(writing).rejects.toThrow(
      /^aFunction requires a place to write key\.csv in .*, got none: the disk is full; free some space/,
    );
    expect(readdirSync(place)).toEqual(["key.csv"]);
    expect(readFileSync(path, "utf8")).toBe("old");
  });

  it("makes a private file readable by its owner alone, whatever mode the old one had", async () => {
    const place = folder();
    const path = join(place, "key.csv");
    writeFileSync(path, "old", { mode: 0o644 });
    await writeFileWhole(path, "new", { caller, private: true });
    expect(statSync(path).mode & 0o777).toBe(0o600);
  });

  it("writes through no link, neither at the place nor where a partial file might stand", async () => {
    const place = folder();
    const elsewhere = join(place, "elsewhere");
    writeFileSync(elsewhere, "untouched");
    symlinkSync(elsewhere, join(place, "key.csv"));
    symlinkSync(elsewhere, join(place, "other.csv.part"));
    await expect(writeFileWhole(join(place, "key.csv"), "secret", { caller })).rejects.toThrow(
      "aFunction requires a file of its own to write, got a link named key.csv; name the file itself, or another one",
    );
    await writeFileWhole(join(place, "other.csv"), "secret", { caller, private: true });
    expect(readFileSync(elsewhere, "utf8")).toBe("untouched");
  });

  it("removes what a killed run left, not what another run is writing", async () => {
    const place = folder();
    const machine = createHash("sha256").update(hostname()).digest("hex").slice(0, 6);
    const left = `.a.csv-${machine}-${ended()}-0123456789ab.part`;
    const living = `.a.csv-${machine}-${process.ppid}-0123456789ab.part`;
    const faraway = ".a.csv-ffffff-1-0123456789ab.part";
    for (const name of [left, living, faraway]) writeFileSync(join(place, name), "half");
    await writeFileWhole(join(place, "a.csv"), "whole", { caller });
    expect(readdirSync(place).sort()).toEqual([living, faraway, "a.csv"].sort());
  });

  it("names a name that is too long, a folder, and a folder that is a file", async () => {
    const place = folder();
    writeFileSync(join(place, "file"), "");
    await expect(writeFileWhole(join(place, "a".repeat(300)), "", { caller })).rejects.toThrow(
      /the name is too long; give a shorter one$/,
    );
    await expect(writeFileWhole(place, "", { caller })).rejects.toThrow(/got a folder named/);
    await expect(writeFileWhole(join(place, "file", "a.csv"), "", { caller })).rejects.toThrow(
      /a part of the path is a file; name another folder$/,
    );
  });
});

describe("fileStem", () => {
  it("keeps short titles apart and readable", () => {
    expect(fileStem("Agreement of M, right eyes (D)")).toBe("agreement-of-m-right-eyes-d");
    expect(fileStem("Übereinstimmung")).toBe("bereinstimmung");
  });

  it("shortens long titles so that those that begin alike stay apart", () => {
    const titles = ["one", "two"].map((end) => `${"A long title ".repeat(30)}${end}`);
    const stems = titles.map(fileStem);
    expect(stems.every((stem) => stem.length <= 110)).toBe(true);
    expect(new Set(stems).size).toBe(2);
  });

  it("avoids names that Windows keeps for devices, and empty ones", () => {
    expect(fileStem("Con")).toMatch(/^con-[0-9a-f]{8}$/);
    expect(fileStem("LPT1")).toMatch(/^lpt1-[0-9a-f]{8}$/);
    expect(fileStem("屈折")).toMatch(/^[0-9a-f]{8}$/);
  });
});
