import { expect, test } from "vitest";
import { describeCohort, linkCohort, readFindings, readReadings } from "../../src/cohort/index.js";
import { suppressSmallCells } from "../../src/privacy/index.js";

// Invented children: own columns in the baseline table, counted by hand.

const columns = {
  kind: "columns",
  version: 1,
  columns: { subject: "id", eye: "eye" },
  readings: [
    {
      own: {
        sex: "sex",
        weight: { column: "w", type: "number" },
        empty: { column: "none", type: "number" },
        examiner: { column: "who", coded: true },
      },
      columns: { sphere: "s", cylinder: "c", axis: "a" },
    },
  ],
  findings: [{ own: { grade: "grade" }, columns: { sphere: "s", cylinder: "c", axis: "a" } }],
};
const child = (id: string, sex: string, w: number | "", who: string, grade: number | "") => {
  return { id, eye: "OD", s: -1, c: 0, a: 0, sex, w, none: "", who, grade };
};
const rows = [
  child("a", "m", 1, "Anna Berg", 1),
  child("b", "f", 2, "Carl Dorn", 2),
  child("c", "f", 6, "Anna Berg", 2),
  child("d", "", "", "Anna Berg", ""),
];
const cohort = async (examined = rows) =>
  linkCohort({
    readings: await readReadings(rows, { columns }),
    findings: await readFindings(examined, { columns }),
  });
/** Rows of the table from the first with this label, without the label. */
const rowsOf = (table: ReturnType<typeof describeCohort>, label: string, count = 1) => {
  const from = table.rows.findIndex(({ cells }) => cells[0] === label);
  expect(from, label).toBeGreaterThanOrEqual(0);
  return table.rows.slice(from, from + count).map(({ cells }) => cells.slice(1));
};

test("words have children and a share each, what is not stated too; numbers mean, SD and not known", async () => {
  const table = describeCohort(await cohort(), { own: ["sex", "weight", "grade", "sex"] });
  expect(rowsOf(table, "sex: f", 6)).toEqual([[2], [0.5], [1], [0.25], [1], [0.25]]);
  expect(rowsOf(table, "sex: not stated")).toEqual([[1]]);
  // mean 3, squares of 1, 2, 6 from it 4 + 1 + 9, over n - 1
  expect(rowsOf(table, "weight, mean", 3)).toEqual([[3], [expect.closeTo(Math.sqrt(7), 12)], [1]]);
  // of the findings; a category of numbers is words
  expect(rowsOf(table, "grade: 2")).toEqual([[2]]);
  expect(table.rows.filter(({ cells }) => cells[0] === "sex: f")).toHaveLength(1);
});

test("no own column is shown unasked, and one without a value is not left out without a word", async () => {
  const plain = describeCohort(await cohort());
  expect(JSON.stringify(plain)).not.toMatch(/sex|weight|grade/);
  const table = describeCohort(await cohort(), { own: ["empty"] });
  expect(rowsOf(table, "empty, mean", 3)).toEqual([
    [{ kind: "undefined", reason: "0 values known" }],
    [{ kind: "undefined", reason: "0 values known" }],
    [4],
  ]);
});

test("groups by an own column add up to all; examiners are numbers", async () => {
  const table = describeCohort(await cohort(), {
    by: { own: "examiner" },
    own: ["examiner", "sex"],
  });
  expect(table.columns.map(({ label }) => label)).toEqual(["", "All", "examiner 1", "examiner 2"]);
  expect(table.rows[0]!.cells).toEqual(["Children", 4, 3, 1]);
  expect(rowsOf(table, "sex: f")).toEqual([[2, 1, 1]]);
  // the groups are no rows as well
  expect(JSON.stringify(table)).not.toMatch(/examiner:|Berg|Dorn/);
  const bySex = describeCohort(await cohort(), { by: { own: "sex" } });
  expect(bySex.rows[0]!.cells).toEqual(["Children", 4, 2, 1, 1]);
  expect(bySex.columns.at(-1)!.label).toBe("not stated");
});

test("examined and not examined are compared in own columns, too", async () => {
  const table = describeCohort(await cohort(rows.slice(0, 2)), {
    by: "verification",
    own: ["sex"],
  });
  const [[all, examined, others, difference]] = rowsOf(table, "sex: f") as [number[]];
  expect([all, examined, others]).toEqual([2, 1, 1]);
  expect(difference).toBe(0);
});

test("a column that no mapping names, and groups by numbers, are refused in words", async () => {
  const linked = await cohort();
  expect(() => describeCohort(linked, { own: ["sexx"] })).toThrow(
    'describeCohort requires own columns that a mapping names under own, got "sexx"; did you mean "sex"?',
  );
  expect(() => describeCohort(linked, { by: { own: "weight" } })).toThrow(
    "requires an own column of words for groups",
  );
});

test("who is in the exam file alone has a line, and is neither without a reading nor of an unknown word", async () => {
  const readings = await readReadings(rows, { columns });
  const stranger = { ...child("x", "", "", "Anna Berg", 2) };
  const findings = await readFindings([...rows, stranger], { columns });
  const table = describeCohort(linkCohort({ readings, findings }), { own: ["sex", "grade"] });
  const label = "In the exam file only: no reading has that number";
  expect(rowsOf(table, label, 2)).toEqual([[1], [0.2]]);
  expect(rowsOf(table, "No reading of the right eye")).toEqual([[0]]);
  expect(rowsOf(table, "sex: not stated")).toEqual([[1]]);
  expect(rowsOf(table, "grade: 2")).toEqual([[3]]);
  const everyChild = describeCohort(await cohort(), { own: ["sex"] });
  expect(everyChild.rows.some(({ cells }) => cells[0] === label)).toBe(false);
});

test("for the public a baseline table shows no mean, SD or quantile of a small group", async () => {
  const sizes = { one: 3, two: 20, three: 30 };
  const many = Object.entries(sizes).flatMap(([sex, n]) =>
    Array.from({ length: n }, (_, at) => child(`${sex}${at}`, sex, 10 + at, "Anna Berg", 1)),
  );
  const own = await linkCohort({
    readings: await readReadings(many, { columns }),
    findings: await readFindings(many, { columns }),
  });
  const table = describeCohort(own, { by: { own: "sex" }, own: ["weight"] });
  const groups = table.columns.map(({ label }) => label);
  const shown = suppressSmallCells(table, { sums: "rows", totalColumn: 1 });
  const small = groups.findIndex((label) => /^one/.test(label));
  const cellsOf = (of: typeof table, column: number) =>
    of.rows
      .map(({ cells }) => cells[column])
      .filter((cell) => typeof cell === "number" && cell > 0);
  expect(cellsOf(table, small).length).toBeGreaterThan(5);
  expect(cellsOf(shown, small)).toEqual([]);
  // the whole stays, and the group that is not needed to cover the small one
  expect(cellsOf(shown, 1).length).toBeGreaterThan(5);
  expect(
    cellsOf(
      shown,
      groups.findIndex((label) => /^three/.test(label)),
    ).length,
  ).toBeGreaterThan(5);
  expect(JSON.stringify(shown)).not.toContain('"behind":');
});
