import { describe, expect, test } from "vitest";
import { auditIdentifiers, readReadings } from "../../src/cohort/index.js";
import { kindOfCell, kindOfHeader } from "../../src/privacy/index.js";

// Invented values throughout; the kinds are those of 45 CFR 164.514(b)(2).
const planted = {
  "e-mail": ["someone@example.org", "a.b@clinic.example.com"],
  url: ["https://example.org/a", "www.example.org/child"],
  "ip-address": ["192.0.2.17", "2001:0db8:0000:0000:0000:0000:0000:0001"],
  "device-serial": ["00:1A:2B:3C:4D:5E"],
  date: [
    "2026-11-25",
    "25/11/2026",
    "11.25.26",
    "25 Nov 2026",
    "Nov 2026",
    "2026-11",
    "20261125",
    "19540229",
    "19991231",
    "25-Nov-2026",
    "25-NOV-26 10:30",
    "Nov-2026",
    "11/2026",
    "11-2026",
    "2026-W48",
  ],
  phone: ["+1 555 010 0199", "(555) 010-0199", "0555 010 0199"],
  "postal-code": ["AB1 2CD", "K1A 0B1", "12345-6789"],
  address: ["12 North Street", "7a Long Mill Lane"],
  "record-number": ["123-45-6789"],
  "free-text": ["seen again after the holiday", "x".repeat(80)],
};
const harmless = [
  "",
  "OD",
  "-1.25",
  "180",
  "2026",
  "1999-2000",
  "S1000001",
  "site-1",
  "+1.25 -0.50 x 180",
  "pl -0.75x90",
  "1234567",
  "18991231",
  "21000101",
  "20261325",
  "20261132",
  "46753.121033",
  "1e-5",
  "with-the-rule",
  "13/2026",
  "4-May",
  "site-Nov-26a",
];

describe("cells", () => {
  for (const [kind, cells] of Object.entries(planted)) {
    test.each(cells)(`${kind}: %s`, (cell) => expect(kindOfCell(cell)).toBe(kind));
  }
  test.each(harmless)("harmless: %s", (cell) => expect(kindOfCell(cell)).toBeNull());
});

describe("names of columns", () => {
  test.each([
    ["child_name", "name"],
    ["LastName", "name"],
    ["Zip.Code", "postal-code"],
    ["dateOfBirth", "date"],
    ["D.O.B.", "date"],
    ["name of child", "name"],
    ["guardian phone", "phone"],
    ["MRN", "record-number"],
    ["deviceSerial", "device-serial"],
    ["street_address", "address"],
  ])("%s: %s", (name, kind) => expect(kindOfHeader(name)).toBe(kind));
  test.each(["sphere", "eye", "age_years", "instrument", "subject_id", "site", "axis", "cycle"])(
    "harmless: %s",
    (name) => expect(kindOfHeader(name)).toBeNull(),
  );
});

const rows = Array.from({ length: 40 }, (_, index) => ({
  subject: `S${10000 + index}`,
  eye: "OD",
  sphere: -1,
  cylinder: 0,
  axis: 0,
  ageYears: 7,
}));

describe("a table", () => {
  test("clean, and the note says what that is worth", async () => {
    const audit = await auditIdentifiers(rows, { subject: "subject" });
    expect(audit.suspected).toEqual([]);
    expect(audit.note).toMatch(/no proof/);
  });

  test("the subject column is exempt from codes, and from nothing else", async () => {
    const undeclared = await auditIdentifiers(rows);
    expect(undeclared.suspected).toMatchObject([{ column: "subject", kind: "unique-code" }]);
    const mail = rows.map((row, index) => ({ ...row, subject: `child${index}@example.org` }));
    const audit = await auditIdentifiers(mail, { subject: "subject" });
    expect(audit.suspected).toMatchObject([{ column: "subject", kind: "e-mail", rows: 40 }]);
  });

  test("names by their look, ages over 89, one cell among many", async () => {
    const given = ["Ada", "Bo", "Cleo", "Dan", "Eve", "Finn", "Gus", "Hal"];
    const table = rows.map((row, index) => ({
      ...row,
      who: `${given[index % 8]} Example${"abcde"[index % 5]}`,
      ageYears: index === 3 ? 93 : 7,
      remark: index === 5 ? "call 0555 010 0199" : "",
      contact: index === 6 ? "0555 010 0199" : "",
    }));
    const audit = await auditIdentifiers(table, { subject: "subject" });
    const found = audit.suspected.map(({ column, kind, rows: count }) => [column, kind, count]);
    expect(found).toContainEqual(["who", "name", 40]);
    expect(found).toContainEqual(["ageYears", "age-over-89", 1]);
    expect(found).toContainEqual(["contact", "phone", 1]);
    // no cell is shown
    expect(JSON.stringify(audit)).not.toMatch(/Example|0199/);
  });

  test("a mapping says in what unit a column named age is", async () => {
    const mapping = (age: "months" | "years") => ({
      kind: "columns" as const,
      version: 1 as const,
      age,
      columns: { subject: "subject", eye: "eye", age: "age" },
      readings: [{ columns: { sphere: "sphere" } }],
    });
    const children = (age: number) =>
      [0, 1, 2].map((row) => ({ subject: `S${row}`, eye: "OD", sphere: 1, age: age + row }));
    // 100 months are 8 years; 100 years single out a person
    const read = await readReadings(children(100), { columns: mapping("months") });
    expect(Array.from(read.ageMonths!)).toEqual([100, 101, 102]);
    await expect(readReadings(children(100), { columns: mapping("years") })).rejects.toThrow(
      "age-over-89",
    );
    await expect(readReadings(children(1100), { columns: mapping("months") })).rejects.toThrow(
      "age-over-89",
    );
    const audit = await auditIdentifiers(children(100), { columns: mapping("months") });
    expect(audit.suspected).toEqual([]);
  });

  test("an age beyond 120 years is a slip of the pen, and identifies nobody", async () => {
    for (const [column, age, beyond] of [
      ["ageYears", 120, 121],
      ["age_months", 1440, 1999],
    ] as const) {
      const audit = (value: number) =>
        auditIdentifiers(
          rows.map((row, index) => ({ ...row, [column]: index === 3 ? value : 7 })),
          { subject: "subject" },
        );
      expect((await audit(age)).suspected).toMatchObject([
        { column, kind: "age-over-89", rows: 1 },
      ]);
      expect((await audit(beyond)).suspected).toEqual([]);
    }
    const columns = { subject: "subject", eye: "eye", age: "ageMonths" };
    const readings = await readReadings(
      [0, 1].map((row) => ({ subject: row, eye: "OD", sphere: 1, ageMonths: 50 + 1949 * row })),
      {
        columns: {
          kind: "columns",
          version: 1,
          age: "months",
          columns,
          readings: [{ columns: { sphere: "sphere" } }],
        },
      },
    );
    expect(readings.problems).toContainEqual(
      expect.objectContaining({ row: 2, rule: "age-range", value: "1999", action: "set-aside" }),
    );
  });

  test("loading refuses, and names the one option that overrides it for that column", async () => {
    const table = rows.map((row) => ({ ...row, child_name: "Ada Example" }));
    await expect(readReadings(table)).rejects.toThrow(
      /column "child_name".*looks like name.*allowIdentifiers: \["child_name"\]/,
    );
    const readings = await readReadings(table, { allowIdentifiers: ["child_name"] });
    expect(readings.n).toBe(40);
    const other = table.map((row) => ({ ...row, visit: "2026-11-25" }));
    await expect(readReadings(other, { allowIdentifiers: ["child_name"] })).rejects.toThrow(
      /visit/,
    );
  });
});

test.each([
  ["Invented, Ada", "Other, Bo"],
  ["INVENTED, ADA", "OTHER-NAME, BO C."],
])("names with the family name first: %s", async (...names) => {
  const people = names.flatMap((name) => ["a", "b", "c"].map((end) => `${name}${end}`));
  const table = people.map((contact, index) => ({ subject: `${index}`, contact }));
  const { suspected } = await auditIdentifiers(table, { subject: "subject" });
  expect(suspected).toMatchObject([{ column: "contact", kind: "name", because: "cells" }]);
});

test("a column that was coded keeps its heading and is no identifier; one word that is no code makes it one", async () => {
  const rows = (words: readonly string[]) =>
    words.map((Village, at) => ({ subject: `s${at}`, eye: "OD", sphere: at / 4, Village }));
  const kindsOf = async (words: readonly string[]) => {
    const { suspected } = await auditIdentifiers(rows(words), { subject: "subject" });
    return suspected.filter(({ column }) => column === "Village").map(({ kind }) => kind);
  };
  expect(await kindsOf(["Site 01", "Site 02", "Site 01", "", "Site 03"])).toEqual([]);
  expect(await kindsOf(["Site 01", "Lower Fell", "Site 01"])).toEqual(["address"]);
});
