import { spawnSync } from "node:child_process";
import {
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { readlink } from "node:fs/promises";
import { hostname, tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { expect, it } from "vitest";
import { deidentify } from "../../src/cohort/index.js";
import { replaceFolder, whileLocked } from "../../src/platform/index.js";

const caller = "aFunction";
const folder = () => mkdtempSync(join(tmpdir(), "platform-"));
const lockText = (process: number, machine: string) =>
  JSON.stringify({ process, machine, token: "0" });

it("lets one work at a time, and leaves no lock", async () => {
  const place = folder();
  const target = join(place, "key.csv");
  let inside = 0;
  let most = 0;
  let done = 0;
  const works = Array.from({ length: 8 }, () =>
    whileLocked(target, { caller }, async () => {
      inside += 1;
      most = Math.max(most, inside);
      await pause(5);
      inside -= 1;
      done += 1;
    }),
  );
  await Promise.all(works);
  expect([most, done, readdirSync(place)]).toEqual([1, 8, []]);
});

it("frees the lock where the work fails", async () => {
  const place = folder();
  const failing = whileLocked(join(place, "a"), { caller }, () => Promise.reject(new Error("no")));
  await expect(failing).rejects.toThrow("no");
  expect(readdirSync(place)).toEqual([]);
});

it("takes over the lock of a process that is gone, and of another machine that fell silent", async () => {
  const place = folder();
  const target = join(place, "key.csv");
  const lock = join(place, ".key.csv.lock");
  const gone = spawnSync(process.execPath, ["-e", ""]).pid;
  writeFileSync(lock, lockText(gone, hostname()));
  expect(await whileLocked(target, { caller }, async () => 1)).toBe(1);
  writeFileSync(lock, lockText(1, "another-machine"));
  const longAgo = new Date(Date.now() - 120_000);
  utimesSync(lock, longAgo, longAgo);
  expect(await whileLocked(target, { caller }, async () => 2)).toBe(2);
  expect(existsSync(lock)).toBe(false);
});

it("waits for a run that lives, and says so in the end", async () => {
  const place = folder();
  for (const [name, text] of [
    ["here", lockText(process.ppid, hostname())],
    ["there", lockText(1, "another-machine")],
    ["unfinished", ""],
  ]) {
    writeFileSync(join(place, `.${name}.lock`), text);
    const waiting = whileLocked(join(place, name), { caller, wait: 100 }, async () => 1);
    await expect(waiting).rejects.toThrow(
      `aFunction requires ${name} for itself, got another run that writes it; wait for that run to end, or name another place`,
    );
  }
});

it("two runs that continue one key table lose no child", async () => {
  const place = folder();
  const keyFile = join(place, "key.csv");
  const rowsOf = (from: number) =>
    Array.from({ length: 40 }, (_, at) => ({ child: `c${from + at}`, sphere: "1.00" }));
  await Promise.all(
    [0, 20, 40, 60].map((from) =>
      deidentify(rowsOf(from), {
        subject: "child",
        to: join(place, `copy-${from}.csv`),
        numbers: { keyFile },
      }),
    ),
  );
  const lines = readFileSync(keyFile, "utf8").trim().split("\n").slice(1);
  expect(lines).toHaveLength(100);
  expect(new Set(lines.map((line) => line.split(",")[0])).size).toBe(100);
});

it("two runs into one folder leave the whole folder of the later one", async () => {
  const place = folder();
  const target = join(place, "report");
  const filesOf = (run: number) =>
    new Map(Array.from({ length: 20 }, (_, at) => [`tables/${at}.csv`, `run ${run}`]));
  await Promise.all([1, 2, 3, 4].map((run) => replaceFolder(target, filesOf(run), { caller })));
  const names = readdirSync(join(target, "tables"));
  const texts = new Set(names.map((name) => readFileSync(join(target, "tables", name), "utf8")));
  expect([names.length, texts.size]).toEqual([20, 1]);
  expect(readdirSync(place).sort()).toEqual([await readlink(target), "report"].sort());
});
