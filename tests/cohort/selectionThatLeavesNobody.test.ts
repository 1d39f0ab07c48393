import { describe, expect, test } from "vitest";
import { defineColumns, linkCohort, readFindings, readReadings } from "../../src/index.js";

const columns = (cycloplegia?: "none") =>
  defineColumns({
    kind: "columns",
    version: 1,
    audience: "journal",
    columns: { subject: "child" },
    readings: [
      {
        ...(cycloplegia && { cycloplegia }),
        columns: {
          eye: "eye",
          statedEquivalent: "se",
          age: { column: "age", unit: "decimal-years" },
        },
      },
    ],
    findings: [{ columns: { eye: "eye", statedEquivalent: "se" } }],
  });
const rows = [1, 2, 3].map((child) => ({ child: `${child}`, eye: "R", se: "-0.5", age: "5.5" }));
const findings = rows.map(({ age: _, ...row }) => row);

describe("a selection of readings that leaves nobody", () => {
  test("is refused with what the rows hold and the line to add", async () => {
    const mapping = columns();
    const data = {
      readings: await readReadings(rows, { columns: mapping }),
      findings: await readFindings(findings, { columns: mapping }),
    };
    expect(() => linkCohort({ ...data, cycloplegia: "none" })).toThrow(
      'requires cycloplegia that the rows hold, got "none"; they hold "unknown" (3 rows): name one of these, or, where ' +
        'the mapping does not say it, add "cycloplegia": "none" to its block',
    );
    expect(() => linkCohort({ ...data, instrument: "other" })).toThrow('"instrument" (3 rows)');
  });

  test("is none where the mapping says the state; a file without powers has M as stated", async () => {
    const mapping = columns("none");
    const cohort = linkCohort({
      readings: await readReadings(rows, { columns: mapping }),
      findings: await readFindings(findings, { columns: mapping }),
      cycloplegia: "none",
    });
    expect(cohort.flow.boxes.find(({ id }) => id === "paired")).toMatchObject({ children: 3 });
    expect(cohort.children.ageMonths).toEqual(Float64Array.of(66, 66, 66));
  });
});

test("a shared column that one file lacks is refused with the place where it belongs", async () => {
  const mapping = defineColumns({
    ...columns(),
    columns: { subject: "child", day: "visit" },
  });
  await expect(readFindings(findings, { columns: mapping })).rejects.toThrow(
    'requires the column "visit" (mapped to day), got 3 columns without it; there are "child", "eye", "se"; what one ' +
      'file alone holds stands in the "columns" of its own block',
  );
});
