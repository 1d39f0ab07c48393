import { mkdtemp, readdir, readFile, rm, stat } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { auditIdentifiers, deidentify } from "../../src/cohort/index.js";

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "copy-"));
});
afterAll(() => rm(folder, { recursive: true }));

// Invented children.
const rows = ["Ada", "Bo", "Cleo"].flatMap((name, index) =>
  ["2026-03-10", "2026-04-09"].map((visit) => ({
    chart: `REC-${4711 + index}`,
    child_name: `${name} Example`,
    born: `2019-03-${String(9 + index).padStart(2, "0")}`,
    visit,
    eye: "OD",
    sphere: index - 1,
  })),
);
const options = { subject: "chart", dates: ["visit"], birthDate: "born" };

describe("a copy with fewer identifiers", () => {
  test("numbers, ages in months, days from the first visit; names are gone; the audit is clean", async () => {
    const to = join(folder, "copy.csv");
    const keyFile = join(folder, "key.csv");
    const log = await deidentify(rows, { ...options, to, numbers: { keyFile } });
    const text = await readFile(to, "utf8");
    expect(text).not.toMatch(/Example|REC-|2019|2026/);
    const [header, ...lines] = text.trim().split("\n");
    expect(header).toBe("subject,ageMonths,visit,eye,sphere");
    // born on 9, 10 and 11 March: at the first visit of 10 March completed months are 84, 84, 83
    const byNumber = lines.map((line) => line.split(","));
    const first = byNumber.filter((cells) => cells[2] === "0").toSorted((a, b) => +a[4] - +b[4]);
    expect(first.map((cells) => cells[1])).toEqual(["84", "84", "83"]);
    expect(byNumber.filter((cells) => cells[2] === "30").length).toBe(3);
    expect(lines).toEqual(lines.toSorted());
    expect(log).toMatchObject({ rows: 6, subjects: 3, unreadDates: 0 });
    expect(log.columns.map(({ action }) => action)).toEqual([
      "replaced",
      "dropped",
      "age in months",
      "days from first visit",
      "kept",
      "kept",
    ]);
    expect((await auditIdentifiers(to, { subject: "subject" })).suspected).toEqual([]);
    expect((await stat(keyFile)).mode & 0o777).toBe(0o600);
    expect((await readFile(keyFile, "utf8")).split("\n").length).toBe(5);
  });

  test("the key table is continued: a second file of the study gets the same numbers", async () => {
    const keyFile = join(folder, "shared.csv");
    const numbersOf = async (name: string) => {
      const to = join(folder, name);
      await deidentify(rows, { ...options, to, numbers: { keyFile } });
      return (await readFile(to, "utf8")).split("\n").map((line) => line.split(",")[0]);
    };
    expect(await numbersOf("one.csv")).toEqual(await numbersOf("two.csv"));
  });

  test("keyed hashes say what they are, and depend on the secret", async () => {
    const copy = async (secret: string) => {
      const to = join(folder, "hashed.csv");
      const log = await deidentify(rows, { ...options, to, numbers: { secret } });
      expect(log.numbers).toBe("pseudonymised, derived from the record number");
      return readFile(to, "utf8");
    };
    const one = await copy("a secret of some length");
    expect(await copy("a secret of some length")).toBe(one);
    expect(await copy("another secret of length")).not.toBe(one);
    await expect(copy("short")).rejects.toThrow(/at least 16/);
  });

  test("a mistake leaves nothing behind", async () => {
    const before = await readdir(folder);
    const wrong = { ...options, dates: ["nowhere"], to: join(folder, "none.csv") };
    await expect(deidentify(rows, wrong)).rejects.toThrow(/column "nowhere"/);
    expect(await readdir(folder)).toEqual(before);
  });
});
