import { readFile } from "node:fs/promises";
import fc from "fast-check";
import { mean, quantile, sampleStandardDeviation } from "simple-statistics";
import { beforeAll, describe, expect, it } from "vitest";
import {
  type Cohort,
  cohortTable,
  countEyes,
  defineColumns,
  type EyeValue,
  eyePairs,
  eyesAsTable,
  filterEyes,
  groupEyes,
  linkCohort,
  readFindings,
  readReadings,
  sortEyes,
  summariseEyes,
} from "../../src/cohort/index.js";
import { fromFrame, joinFrames, show, toFrame } from "../../src/notebook/index.js";
import { viewOf } from "../../src/notebook/views/index.js";
import type { TableModel } from "../../src/results/index.js";
import { toCsv, toWord } from "../../src/tables/index.js";

let children: Cohort;

beforeAll(async () => {
  const file = "data/children/children.csv";
  const columns = JSON.parse(await readFile("data/children/columns.json", "utf8"));
  const readings = await readReadings(file, { columns });
  const findings = await readFindings(file, { columns });
  children = linkCohort({ readings, findings, instrument: "handheld", cycloplegia: "none" });
});

// Three invented children with columns of their own; C has a reading alone, of the left eye.
async function small(): Promise<Cohort> {
  const columns = (side: "readings" | "findings", own: object) =>
    defineColumns({
      kind: "columns",
      version: 1,
      audience: "journal",
      columns: { subject: "id", eye: "eye" },
      eyes: { right: ["R"], left: ["L"] },
      [side]: [{ columns: { sphere: "s", cylinder: "c", axis: "a" }, cylinder: "minus", own }],
    });
  const rows = (names: string, ...lines: string[]) =>
    lines.map((line) => {
      const cells = line.split(",");
      return Object.fromEntries(names.split(",").map((name, at) => [name, cells[at]!]));
    });
  const readings = await readReadings(
    rows(
      "id,eye,s,c,a,room",
      "A,R,-1,0,0,north",
      "A,L,-2,0,0,north",
      "B,R,-4,-1,90,",
      "C,L,0.5,0,0,south",
    ),
    { columns: columns("readings", { room: "room" }) },
  );
  const findings = await readFindings(
    rows("id,eye,s,c,a,lux", "A,R,-1.5,0,0,90", "A,L,-1,0,0,", "B,R,-3,-1,90,70"),
    { columns: columns("findings", { lux: { column: "lux", type: "number" } }) },
  );
  return linkCohort({ readings, findings });
}

describe("cohortTable", () => {
  it("has every eye of the flow once, and the pairs of eyePairs", () => {
    const table = cohortTable(children);
    expect([table.n, table.children]).toEqual([1129, 574]);
    const pairs = eyePairs(children, { eyes: "both" });
    const paired = filterEyes(table, (row) => row.outcome === "paired");
    expect(Array.from(paired.columns.readingM)).toEqual(Array.from(pairs.test));
    expect(Array.from(paired.columns.findingM)).toEqual(Array.from(pairs.reference));
    expect(paired.columns.eye).toEqual(pairs.eye);
    const J45 = eyePairs(children, { eyes: "both", quantity: "J45" });
    const complete = filterEyes(table, (row) => !Number.isNaN(row.differenceJ45));
    expect(complete.n).toBe(J45.n);
    const reverse = Array.from(complete.columns.differenceJ45);
    for (const [row, value] of reverse.entries()) {
      expect(value).toBeCloseTo(J45.test[row]! - J45.reference[row]!, 9);
    }
  });

  it("has own columns of both sides, missing where a side has no row", async () => {
    const { own, columns, n } = cohortTable(await small());
    expect(n).toBe(4);
    expect(columns.subject).toEqual(["A", "A", "B", "C"]);
    expect(own.reading).toEqual({ room: ["north", "north", "", "south"] });
    expect(Array.from(own.finding.lux as Float64Array)).toEqual([90, Number.NaN, 70, Number.NaN]);
    expect(Array.from(columns.differenceM)).toEqual([0.5, -1, -1, Number.NaN]);
    expect(columns.findingStatus[3]).toBe("");
  });

  it("takes no cohort that was not linked", () => {
    const { outcome: _, ...others } = children.children;
    expect(() => cohortTable({ ...children, children: others })).toThrow(
      "cohortTable requires a cohort made by linkCohort",
    );
  });
});

describe("slicing", () => {
  it("leaves a missing value out of a condition and of its opposite", async () => {
    const table = cohortTable(await small());
    expect(filterEyes(table, (row) => row.findingM < -1).n).toBe(2);
    expect(filterEyes(table, (row) => row.findingM >= -1).n).toBe(1);
    expect(filterEyes(table, (row) => row.readingOwn.room === "north").children).toBe(1);
    expect(() => filterEyes(table, (row) => row.readingM as never)).toThrow(
      "filterEyes requires a condition that is true or false, got -1 at row 0",
    );
  });

  it("sorts with missing last both ways, ties in their order", async () => {
    const table = cohortTable(await small());
    const sorted = (order: "ascending" | "descending") =>
      sortEyes(table, "differenceM", { order }).columns.subject.join("");
    expect(sorted("ascending")).toBe("ABAC");
    expect(sorted("descending")).toBe("AABC");
    expect(() => sortEyes(table, (row) => (row.eye === "left" ? 1 : "one"))).toThrow(
      "sortEyes requires words or numbers, got both in one column",
    );
  });

  it("groups add up to the whole, whatever the grouping (law)", () => {
    const table = cohortTable(children);
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 6 }), fc.boolean(), (width, byEye) => {
        const band = (row: { readonly findingM: number }) => Math.floor(row.findingM / width);
        const by: Record<string, EyeValue> = byEye ? { band, eye: "eye" } : { band };
        const counts = countEyes(table, by);
        const total = counts.groups.reduce((sum, { eyes }) => sum + eyes, 0);
        const parts = groupEyes(table, by).map((group) => group.table.n);
        expect(total).toBe(table.n);
        expect(parts).toEqual(counts.groups.map(({ eyes }) => eyes));
        // the eyes without a finding are the last group
        expect(counts.groups.at(-1)?.group.band).toBeNull();
      }),
      { numRuns: 10 },
    );
  });

  it("describes what is there and counts what is missing", () => {
    const table = cohortTable(children);
    const [right] = summariseEyes(
      filterEyes(table, (row) => row.eye === "right"),
      { of: "differenceM" },
    ).groups;
    const pairs = eyePairs(children, { eyes: "right" });
    const differences = Array.from(pairs.test, (value, row) => value - pairs.reference[row]!);
    // bias and SD of right eyes by R 4.2, as in the first light test
    expect(right?.mean).toBeCloseTo(-0.2066, 4);
    expect(right?.sd).toBeCloseTo(1.4699, 4);
    expect(right?.sd).toBeCloseTo(sampleStandardDeviation(differences), 9);
    expect(right?.mean).toBeCloseTo(mean(differences), 9);
    expect(right?.lowerQuartile).toBe(quantile(differences, 0.25));
    expect(right!.eyes - right!.missing).toBe(538);
    expect(() => summariseEyes(table, { of: "site" })).not.toThrow();
    expect(() => summariseEyes(table, { of: "eye" })).toThrow('got the word "right"');
    const none = filterEyes(table, () => false);
    expect(summariseEyes(none, { of: "readingM" }).groups[0]?.mean).toEqual({
      kind: "undefined",
      reason: "no eye has the value",
    });
  });
});

describe("out of the table", () => {
  it("to CSV and Word, missing cells empty, own columns behind the others", async () => {
    const table = cohortTable(await small());
    const csv = toCsv(
      eyesAsTable(sortEyes(table, "readingM"), { columns: ["eye", "readingM", "findingM"] }),
    );
    expect(csv).toBe(
      "eye,readingM,findingM\nright,-4.5,-3.5\nleft,-2,-1\nright,-1,-1.5\nleft,0.5,\n",
    );
    const all = toCsv(eyesAsTable(table)).split("\n");
    expect(all[0]).toMatch(/differenceJ45,reading: room,finding: lux$/);
    expect(all[4]).toMatch(/,south,$/);
    const word = await toWord([eyesAsTable(table, { title: "Eyes" })]);
    expect(word.length).toBeGreaterThan(1000);
  });

  it("to a frame, whose groups and joins need no cast", async () => {
    const frame = toFrame(cohortTable(await small()));
    const measured = frame.query(frame.column("readingM").lt(100));
    const means = measured.groupby(["eye"]).col(["readingM"]).mean();
    expect(fromFrame(means)).toEqual([
      { eye: "right", readingM_mean: -2.75 },
      { eye: "left", readingM_mean: -0.75 },
    ]);
    const rooms: TableModel = {
      kind: "table",
      title: "rooms",
      columns: [
        { label: "reading: room", format: "text" },
        { label: "floor", format: "number" },
      ],
      rows: [{ cells: ["north", 1] }, { cells: ["east", 2] }],
      notes: [],
    };
    const joined = joinFrames(frame, toFrame(rooms), { on: ["reading: room"] });
    expect(fromFrame(joined).map(({ subject, floor }) => [subject, floor])).toEqual([
      ["A", 1],
      ["A", 1],
      ["B", null],
      ["C", null],
    ]);
    const matched = joinFrames(frame, toFrame(rooms), { on: ["reading: room"], keep: "matched" });
    expect(matched.shape[0]).toBe(2);
    expect(() => joinFrames(toFrame(rooms), frame, { on: ["reading: room"] })).toThrow(
      "joinFrames requires each key once in the second frame",
    );
    expect(() => joinFrames(frame, toFrame(rooms), { on: ["place"] })).toThrow(
      'joinFrames requires the column "place" in the first frame',
    );
  });

  it("is shown with ten rows and no child's number; for the public with none", () => {
    const table = cohortTable(children);
    const text = show(table);
    expect(text).toContain("1129 eyes of 574 children");
    expect(text).toContain("1119 more rows are not shown");
    expect(text).not.toContain(table.columns.subject[0]!);
    const hidden = show({ ...table, audience: "public" });
    expect(hidden).toContain("1129 rows are not shown");
    expect(hidden).not.toContain("right");
  });

  it("takes small groups out of what the public sees", () => {
    const table = { ...cohortTable(children), audience: "public" as const };
    const counts = countEyes(table, { band: (row) => Math.floor(row.findingM) });
    const small = counts.groups.filter(({ eyes }) => eyes < 11).map(({ group }) => group.band);
    expect(small.length).toBeGreaterThan(0);
    const [shown] = viewOf(counts).tables;
    for (const row of shown!.rows) {
      for (const cell of row.cells.slice(1)) {
        expect(typeof cell === "number" && cell > 0 && cell < 11).toBe(false);
      }
    }
    const summary = summariseEyes(table, {
      of: "differenceM",
      by: { band: (row) => Math.floor(row.findingM) },
    });
    const [described] = viewOf(summary).tables;
    expect(described!.columns.map(({ label }) => label)).not.toContain("least");
    const row = described!.rows.find(({ cells }) => cells[0] === String(small[0]));
    expect(row!.cells.slice(1).every((cell) => typeof cell === "object" || cell === 0)).toBe(true);
  });
});
