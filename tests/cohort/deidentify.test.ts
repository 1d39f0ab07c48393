import { mkdir, mkdtemp, readdir, readFile, rm, stat, writeFile } from "node:fs/promises";
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
    expect(log).toMatchObject({ rowCount: 6, subjects: 3, unreadDates: 0 });
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

describe("ways in which a copy could still say who a child is, or a key be lost", () => {
  const to = () => join(folder, "leak.csv");
  const plain = { subject: "12", eye: "OD" };

  test("a second column of the subject's name is refused, not kept", async () => {
    const text = "id,eye,id\n12,OD,12\n";
    await expect(deidentify({ text }, { subject: "id", to: to() })).rejects.toThrow(
      'deidentify requires one column "id", got several of that name',
    );
  });

  test("a column that repeats the subject goes", async () => {
    const copies = [12, 13, 14].map((id) => ({ id, barcode: id === 14 ? "" : id, eye: "OD" }));
    const log = await deidentify(copies, { subject: "id", to: to() });
    expect(log.columns[1]).toEqual({
      column: "barcode",
      action: "dropped",
      reason: "repeats the subject",
    });
    const lines = (await readFile(to(), "utf8")).trim().split("\n");
    expect(lines.map((line) => line.split(",")[1])).toEqual(["eye", "OD", "OD", "OD"]);
  });

  test("rows without a subject stay without one: they are no child of their own", async () => {
    const rows = [
      { id: "", visit: "2026-03-10" },
      { id: "", visit: "2026-03-12" },
      { id: "a", visit: "2026-03-10" },
    ];
    const log = await deidentify(rows, { subject: "id", dates: ["visit"], to: to() });
    expect(log).toMatchObject({ subjects: 1, unreadDates: 2 });
    const lines = (await readFile(to(), "utf8")).trim().split("\n").slice(1);
    expect(lines.slice(0, 2)).toEqual([",", ","]);
    expect(lines[2]).toMatch(/^P\d+,0$/);
  });

  test("an age over 89 years is left empty and counted", async () => {
    const rows = [
      { id: "a", born: "1930-01-01", visit: "2026-03-10" },
      { id: "b", born: "1936-04-01", visit: "2026-03-10" },
    ];
    const columns = { subject: "id", dates: ["visit"], birthDate: "born" };
    expect((await deidentify(rows, { ...columns, to: to() })).unreadDates).toBe(1);
    // 1936-04-01 to 2026-03-10: 89 years and 11 completed months
    expect(await readFile(to(), "utf8")).toContain(",1079,0");
    expect((await auditIdentifiers(to(), { subject: "subject" })).suspected).toEqual([]);
  });

  test("source, copy and key table are three files", async () => {
    const source = join(folder, "source.csv");
    await writeFile(source, "id,eye\n12,OD\n");
    const keyFile = join(folder, "x", "..", "source.csv");
    for (const options of [
      { to: source },
      { to: to(), numbers: { keyFile } },
      { to: to(), numbers: { keyFile: to() } },
    ]) {
      await expect(deidentify(source, { subject: "id", ...options })).rejects.toThrow(
        "requires different files",
      );
    }
    expect(await readFile(source, "utf8")).toBe("id,eye\n12,OD\n");
  });

  test("a key table that is something else is not written over, and its text is not shown", async () => {
    const keyFile = join(folder, "other.csv");
    await writeFile(keyFile, "number,subject\nP1,Somebody\n");
    const run = deidentify([plain], { subject: "subject", to: to(), numbers: { keyFile } });
    await expect(run).rejects.toThrow("requires a key table as it wrote it, got another file");
    expect(await readFile(keyFile, "utf8")).toContain("Somebody");
    const closed = join(folder, "closed");
    await mkdir(closed);
    const unreadable = deidentify([plain], {
      subject: "subject",
      to: to(),
      numbers: { keyFile: closed },
    });
    await expect(unreadable).rejects.toThrow("requires a key table that can be read");
  });

  test("no new key table stays where the copy cannot be written", async () => {
    const keyFile = join(folder, "alone.csv");
    const missing = join(folder, "no-such-folder", "copy.csv");
    const run = deidentify([plain], { subject: "subject", to: missing, numbers: { keyFile } });
    await expect(run).rejects.toThrow();
    expect(await readdir(folder)).not.toContain("alone.csv");
  });
});
