// Single cases of dates, ids and keys, each small enough to be checked by hand.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { calendarDate, isoDay } from "../../src/cohort/index.js";
import { idMatches, type PreparationChoices, prepareFiles } from "../../src/prepare/index.js";

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "single-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

/** Prepares a screening and an exam; whatever would be lost was seen. */
async function made(
  screening: string,
  exam: string,
  to = join(mkdtempSync(join(folder, "case-")), "study"),
  change: (choices: PreparationChoices) => unknown = (choices) => choices,
) {
  const raw = mkdtempSync(join(folder, "raw-"));
  const paths = [join(raw, "screening.csv"), join(raw, "exam.csv")];
  writeFileSync(paths[0]!, screening);
  writeFileSync(paths[1]!, exam);
  const first = await prepareFiles(paths, undefined, { to });
  const choices = change(JSON.parse(JSON.stringify(first.choices)));
  const second = await prepareFiles(paths, choices as object, { to });
  const rows = (name: string) =>
    readFileSync(join(to, name), "utf8")
      .trim()
      .split("\n")
      .map((line) => line.split(","));
  /** The cells of a column, by the child's id as the key table gives it. */
  const column = (name: string, header: string) => {
    const [names, ...records] = rows(name);
    const key = readFileSync(join(`${to}-key`, "children.csv"), "utf8")
      .trim()
      .split("\n")
      .slice(1);
    const idOf = new Map(key.map((line) => [line.split(",")[0], /"(.*?)"/.exec(line)![1]]));
    const cells = records.map((record) => [
      idOf.get(record[names!.indexOf("subject")]!),
      record[names!.indexOf(header)],
    ]);
    return Object.fromEntries(cells);
  };
  return { first, second, to, rows, column };
}
const names = "R sph,R cyl,R axis";
const power = "+1.25,-0.50,90";

describe("dates", () => {
  it("spreadsheet serials count from 30 December 1899 (OpenDocument 1.2, part 2, 4.3.3, table:null-date)", () => {
    const iso = (text: string) => isoDay(calendarDate(text, "serial")!.day);
    expect([iso("25569"), iso("36526"), iso("45658.75")]).toEqual([
      ...["1970-01-01", "2000-01-01", "2025-01-01"],
    ]);
    expect(calendarDate("461", "serial")).toBeNull();
  });

  it("years of two digits are asked for a century, and read with it", async () => {
    const screening = `Pupil ID,Seen on,${names}\nk1,13/02/26,${power}\nk2,14/02/26,${power}\n`;
    const exam = `Pupil ID,Exam date,${names},Drops\nk1,15/03/26,${power},yes\nk2,14/03/26,${power},no\n`;
    const { first, second, column } = await made(screening, exam, undefined, (choices) => {
      for (const file of choices.files)
        for (const one of Object.values(file.columns)) if (one.century === null) one.century = 2000;
      return choices;
    });
    expect(first.questions.map(({ column, key }) => [column, key])).toEqual([
      ["Seen on", "century"],
      ["Exam date", "century"],
    ]);
    // nothing is lost, and no loss is written down as agreed, while the century is asked
    expect(first.unseenLosses).toEqual([]);
    expect(JSON.stringify(first.choices)).not.toContain("loses");
    expect(second.written).toBe(true);
    expect(column("findings.csv", "day")).toEqual({ k1: "30", k2: "28" });
  });

  it("days are counted from each child's own screening, in every file", async () => {
    const screening = `Pupil ID,Seen on,${names}\nk1,2026-02-01,${power}\nk2,2026-03-01,${power}\n`;
    const exam = `Pupil ID,Exam date,${names},Drops\nk1,2026-03-01,${power},yes\nk2,2028-06-15,${power},no\n`;
    const { column } = await made(screening, exam);
    expect(column("readings.csv", "day")).toEqual({ k1: "0", k2: "0" });
    // 2026-02-01 to 2026-03-01 are 28 days; 2026-03-01 to 2028-06-15 are 731 + 106
    expect(column("findings.csv", "day")).toEqual({ k1: "28", k2: "837" });
  });

  it("an exam before the screening and a birth after it are listed, and stay as they are", async () => {
    const screening = `Pupil ID,DOB,Seen on,${names}\nk1,2020-05-01,2026-02-15,${power}\nk2,2026-05-01,2026-02-20,${power}\n`;
    const exam = `Pupil ID,Exam date,${names},Drops\nk1,2026-02-13,${power},yes\nk2,2026-02-27,${power},no\n`;
    const { second, column } = await made(screening, exam);
    expect(second.outOfOrder.map(({ file, line, what }) => [file, line, what])).toEqual([
      ["screening.csv", 3, "the birth is after the visit"],
      ["exam.csv", 2, "the exam is before the screening"],
      ["exam.csv", 3, "the birth is after the visit"],
    ]);
    expect(column("findings.csv", "day")).toEqual({ k1: "-2", k2: "7" });
    // 2020-05-01 to 2026-02-15: five years and nine months
    expect(column("readings.csv", "ageMonths")).toEqual({ k1: "69", k2: "" });
  });

  it("a school year that was asked for stays as a column, and no date does", async () => {
    const screening = `Pupil ID,Seen on,${names}\nk1,2025-08-31,${power}\nk2,2025-09-01,${power}\n`;
    const exam = `Pupil ID,Exam date,${names},Drops\nk1,2026-03-15,${power},yes\nk2,2026-03-16,${power},no\n`;
    const { column, rows } = await made(screening, exam, undefined, (choices) => ({
      ...choices,
      period: { every: "school-year", schoolYearStarts: 9 },
    }));
    expect(column("readings.csv", "period")).toEqual({ k1: "2024-2025", k2: "2025-2026" });
    expect(JSON.stringify(rows("readings.csv"))).not.toMatch(/2025-0[89]/);
  });

  it("ages in years beside ages in months in one column, each with its unit, become a column of each", async () => {
    const ages = ["5 y", "62 m", "5y 4m", "6 years", "70 months", "4 y"];
    const screening = `Pupil ID,Seen on,Age,${names}\n${ages.map((age, at) => `k${at},2026-02-${13 + at},${age},${power}`).join("\n")}\n`;
    const exam = `Pupil ID,Exam date,${names},Drops\nk1,2026-03-15,${power},yes\nk2,2026-03-16,${power},no\n`;
    const { column, second } = await made(screening, exam);
    // no month of a completed year is invented: 5 y stays 5 years, 5y 4m is 64 months
    expect(column("readings.csv", "Age in months")).toEqual({
      ...{ k0: "", k1: "62", k2: "64", k3: "", k4: "70", k5: "" },
    });
    expect(column("readings.csv", "Age in years")).toEqual({
      ...{ k0: "5", k1: "", k2: "", k3: "6", k4: "", k5: "4" },
    });
    expect(second.mapping?.readings?.[0]?.right?.age).toEqual([
      { column: "Age in months", unit: "months" },
      { column: "Age in years", unit: "years" },
    ]);
  });
});

describe("ages of two units", () => {
  const exam = `Pupil ID,Exam date,${names},Drops\nk1,2026-03-15,${power},yes\nk2,2026-03-16,${power},no\n`;
  const screening = (header: string, ages: readonly string[]) =>
    `Pupil ID,Seen on,${header},${names}\n${ages.map((age, at) => `k${at},2026-02-${13 + at},${age},${power}`).join("\n")}\n`;
  const both = [
    { column: "Age in months", unit: "months" },
    { column: "Age in years", unit: "years" },
  ];

  it("numbers that fall into years and months are asked, and taken apart by the answer", async () => {
    const { first, second, column } = await made(
      screening("Age", ["5", "62", "4", "70", "6", "48"]),
      exam,
      undefined,
      (choices) => {
        expect(choices.files[0]!.columns.Age!.unit).toBeNull();
        choices.files[0]!.columns.Age!.unit = "years-or-months";
        return choices;
      },
    );
    const [question] = first.questions;
    expect(question).toMatchObject({ column: "Age", key: "unit" });
    expect(question?.ask).toContain("numbers up to 6 for years and from 48 on for months");
    expect(question?.allowed).toContain("years-or-months");
    expect(column("readings.csv", "Age in years")).toEqual({
      ...{ k0: "5", k1: "", k2: "4", k3: "", k4: "6", k5: "" },
    });
    expect(column("readings.csv", "Age in months")).toMatchObject({ k1: "62", k3: "70", k5: "48" });
    expect(second.mapping?.readings?.[0]?.right?.age).toEqual(both);
  });

  it("a column of units says it of each row, unasked", async () => {
    const { first, second, column } = await made(
      screening("Age,Age unit", ["5,y", "62,m", "4,Y", "70,M", "22,m", "4.5,years"]),
      exam,
    );
    expect(first.questions).toEqual([]);
    expect(column("readings.csv", "Age in years")).toEqual({
      ...{ k0: "5", k1: "", k2: "4", k3: "", k4: "", k5: "" },
    });
    // four years and a half are 54 months
    expect(column("readings.csv", "Age in months")).toEqual({
      ...{ k0: "", k1: "62", k2: "", k3: "70", k4: "22", k5: "54" },
    });
    expect(second.mapping?.readings?.[0]?.right?.age).toEqual(both);
  });

  it("a number without a unit among ages with one is nobody's month: it is left empty, and counted", async () => {
    const ages = ["5 y", "62 m", "5y 4m", "6", "70 m", "4 y"];
    const { first, column } = await made(screening("Age", ages), exam);
    expect(first.unseenLosses).toEqual([{ file: "screening.csv", column: "Age", loses: 1 }]);
    expect(column("readings.csv", "Age in years").k3).toBe("");
    expect(column("readings.csv", "Age in months").k3).toBe("");
  });

  it("years with their word alone are years", async () => {
    const { first, column } = await made(screening("Age", ["5 yrs", "6 yrs", "4 yrs"]), exam);
    expect(first.written).toBe(true);
    expect(column("readings.csv", "Age")).toEqual({ k0: "5", k1: "6", k2: "4" });
  });
});

describe("examiners", () => {
  it("get codes as sites do; their names stand in the table of codes alone", async () => {
    const screening = `Pupil ID,Seen on,School,Screened by,${names}\n${["Ines Quarrow,", "Tam Belder,", "Ines Quarrow,"].map((who, at) => `k${at},2026-02-1${3 + at},Oak Hill,${who}${power}`).join("\n")}\n`;
    const exam = `Pupil ID,Exam date,${names},Drops\nk1,2026-03-15,${power},yes\nk2,2026-03-16,${power},no\n`;
    const { second, column, to } = await made(screening, exam);
    const codes = column("readings.csv", "Screened by");
    expect(codes.k0).toMatch(/^Examiner 0[12]$/);
    expect(codes.k2).toBe(codes.k0);
    expect(codes.k1).not.toBe(codes.k0);
    expect(column("readings.csv", "School").k0).toBe("Site 01");
    expect(JSON.stringify(second)).not.toMatch(/Quarrow|Belder/);
    expect(readFileSync(join(`${to}-key`, "codes.csv"), "utf8")).toContain("Quarrow");
  });
});

describe("ids", () => {
  it("that match nothing are asked, with what to look at, and go on without a link where that is said", async () => {
    const screening = `Pupil ID,Seen on,${names}\nk1,2026-02-15,${power}\nk2,2026-02-16,${power}\n`;
    const exam = `Pupil ID,Exam date,${names},Drops\nz8,2026-03-15,${power},yes\nz9,2026-03-16,${power},no\n`;
    const { first, second } = await made(screening, exam, undefined, (choices) => {
      choices.ids!.ignore = [];
      return choices;
    });
    expect(first.written).toBe(false);
    expect(first.questions).toMatchObject([{ key: "ids.ignore", allowed: ["[]"] }]);
    expect(first.questions[0]!.ask).toContain("is another column the id of one file");
    expect([second.written, second.link.matched]).toEqual([true, 0]);
  });

  it("an id of a child that has no row of its own is found by its form, and left empty", async () => {
    const line = (id: number, sibling: string) => `KX${id},2026-02-13,${power},${sibling}`;
    const screening = [
      `Pupil ID,Seen on,${names},Sibling`,
      ...[line(1001, "KX4711"), line(1002, "KX4711"), line(1003, "KX4711"), line(1004, "none")],
    ].join("\n");
    const exam = `Pupil ID,Exam date,${names},Drops\nKX1001,2026-03-15,${power},yes\nKX1002,2026-03-16,${power},no\n`;
    const { rows } = await made(screening, exam, undefined, (choices) => {
      Object.assign(choices.files[0].columns.Sibling, { is: "other", fate: "keep", loses: 3 });
      return choices;
    });
    expect(rows("readings.csv").flat()).toContain("none");
    expect(JSON.stringify(rows("readings.csv"))).not.toContain("4711");
  });

  it("what would match in another way is counted, and a way that makes one id of two is none", () => {
    const match = idMatches([
      ["007", "008", "9"],
      ["7", "8", "9"],
    ]);
    expect(match.matches[0]).toMatchObject({ ignore: [], matched: 1 });
    expect(match.best).toMatchObject({ ignore: ["leading-zeros"], matched: 3, collisions: 0 });
    // a data-frame program writes whole numbers so where one of the column is missing
    const floats = idMatches([
      ["1", "7", "10", "70"],
      ["1.0", "7.0", "8.0"],
    ]);
    expect(floats.best).toEqual({ ignore: ["decimals"], matched: 2, collisions: 0 });
    // 7.0 is never 70
    expect(floats.matches).toHaveLength(2);
    const collide = idMatches([
      ["007", "7", "08"],
      ["7", "8", "9"],
    ]);
    expect(collide.best.ignore).toEqual([]);
    expect(collide.matches.find(({ ignore }) => ignore.join() === "leading-zeros")).toMatchObject({
      collisions: 1,
    });
  });

  it("a key is continued: a child keeps its number and its day zero, a new one gets its own", async () => {
    const exam = (ids: string[]) =>
      `Pupil ID,Exam date,${names},Drops\n${ids.map((id) => `${id},2026-03-15,${power},yes`).join("\n")}\n`;
    const screening = (ids: string[], day: string) =>
      `Pupil ID,Seen on,${names}\n${ids.map((id) => `${id},${day},${power}`).join("\n")}\n`;
    const one = await made(screening(["k1", "k2"], "2026-02-15"), exam(["k1"]));
    const key = () => readFileSync(join(`${one.to}-key`, "children.csv"), "utf8");
    const before = key().trim().split("\n").slice(1);
    const later = await made(screening(["k1", "k2", "k3"], "2026-03-15"), exam(["k1"]), one.to);
    for (const line of before) expect(key()).toContain(line);
    expect(key().trim().split("\n")).toHaveLength(4);
    expect(later.column("readings.csv", "day")).toEqual({ k1: "28", k2: "28", k3: "0" });
  });
});

it("a column is answered by its name, whatever the name", async () => {
  const { second, rows } = await made(
    `ID,__proto__,Seen on,${names}\n1,A,2026-03-10,${power}\n2,B,2026-03-11,${power}\n`,
    `ID,Exam date,${names}\n1,2026-04-09,${power}\n`,
    undefined,
    (choices) => {
      const [{ columns }] = choices.files as [PreparationChoices["files"][number]];
      expect(Object.hasOwn(columns, "__proto__")).toBe(true);
      const answer = { fate: "keep", is: "other" };
      Object.defineProperty(columns, "__proto__", { value: answer, enumerable: true });
      return choices;
    },
  );
  expect(second.questions).toEqual([]);
  expect(rows("readings.csv")[0]).toContain("__proto__");
});
