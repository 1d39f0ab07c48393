import { describe, expect, it } from "vitest";
import type { Cohort, Findings, Readings } from "../../src/cohort/types.js";
import type { Frame } from "../../src/notebook/frame.js";
import { fromFrame } from "../../src/notebook/fromFrame.js";
import { toFrame } from "../../src/notebook/toFrame.js";
import type { TableModel } from "../../src/results/index.js";
import { coded } from "../builders/coded.js";
import { partOf } from "../builders/partOf.js";
import { wrong } from "../builders/wrong.js";

// Three invented children: A has both eyes on both sides, B only a reading, C only a finding.
const shared = {
  problems: [],
  ageMonths: null,
  ageYears: null,
  day: null,
  site: null,
  vertexMm: null,
};
const readings = partOf<Readings>({
  ...shared,
  kind: "readings",
  n: 3,
  line: Int32Array.of(2, 3, 4),
  subject: coded(["A", "B"], 0, 0, 1),
  eye: coded(["right", "left"], 0, 1, 0),
  status: coded(["measured", "over-range"], 0, 0, 1),
  sphere: Float64Array.of(-1.25, -1.5, Number.NaN),
});
const findings = partOf<Findings>({
  ...shared,
  kind: "findings",
  n: 3,
  line: Int32Array.of(2, 3, 4),
  subject: coded(["A", "C"], 0, 0, 1),
  eye: coded(["right", "left"], 0, 1, 1),
  status: coded(["measured"], 0, 0, 0),
  sphere: Float64Array.of(-1, -1.75, 2.123456789),
});
const cohort = partOf<Cohort>({
  kind: "cohort",
  readings,
  findings,
  children: {
    n: 3,
    subject: ["A", "B", "C"],
    readingRow: { right: Int32Array.of(0, 2, -1), left: Int32Array.of(1, -1, -1) },
    findingRow: { right: Int32Array.of(0, -1, -1), left: Int32Array.of(1, -1, 2) },
    verification: coded(["examined", "pending"], 0, 1, 0),
    verificationReason: coded(["unknown"], 0, 0, 0),
    ageMonths: Float64Array.of(60, 72, 84),
    ageYears: Float64Array.of(5, 6, 7),
    site: null,
  },
  flow: { kind: "flow", boxes: [] },
});

const columns = (frame: Frame, ...names: string[]) =>
  fromFrame(frame).map((row) => names.map((name) => row[name]));

describe("toFrame", () => {
  it("puts reading and finding of an eye side by side, and loses no eye", () => {
    const frame = toFrame(cohort);
    expect(
      columns(
        frame,
        "subject",
        "eye",
        "verification",
        "readingStatus",
        "readingSphere",
        "findingSphere",
      ),
    ).toEqual([
      ["A", "right", "examined", "measured", -1.25, -1],
      ["A", "left", "examined", "measured", -1.5, -1.75],
      ["B", "right", "pending", "over-range", null, null],
      ["C", "left", "examined", null, null, 2.123456789],
    ]);
  });

  it("selects by a condition; a missing value satisfies none", () => {
    const frame = toFrame(cohort);
    const myopic = frame.query(frame.column("readingSphere").lt(0));
    expect(columns(myopic, "subject", "eye")).toEqual([
      ["A", "right"],
      ["A", "left"],
    ]);
    const none = frame.query(frame.column("readingSphere").gt(100));
    expect(fromFrame(none)).toEqual([]);
  });

  it("gives readings their own columns, without line numbers", () => {
    const [first] = fromFrame(toFrame(readings));
    expect(first).toEqual({ subject: "A", eye: "right", status: "measured", sphere: -1.25 });
  });

  it("spreads an estimate over three columns", () => {
    const estimate = {
      kind: "estimate",
      value: 1,
      low: 0,
      high: 2,
      level: 0.95,
      method: "t",
    } as const;
    const table: TableModel = {
      kind: "table",
      title: "invented",
      columns: [
        { label: "what", format: "text" },
        { label: "bias", format: "dioptres" },
      ],
      rows: [
        { cells: ["group"], heading: true },
        { cells: ["M", estimate] },
        { cells: ["J0", { kind: "undefined", reason: "one row" }] },
      ],
      notes: [],
    };
    expect(fromFrame(toFrame(table))).toEqual([
      { what: "M", bias: 1, "bias low": 0, "bias high": 2 },
      { what: "J0", bias: null, "bias low": null, "bias high": null },
    ]);
  });

  it("refuses what has no rows, and what is no data", () => {
    const empty = { kind: "table", title: "", columns: [], rows: [], notes: [] } as const;
    expect(() => toFrame(empty)).toThrow("toFrame requires at least one row, got none");
    expect(() => toFrame(wrong(3))).toThrow(
      "toFrame requires a cohort, a cohort table, readings, findings or a table, got number",
    );
  });
});

// The traps that the documentation names; when one of these fails, the library has changed.
describe("what danfojs-node 1.2.0 does with missing values", () => {
  type Whole = Omit<Frame, "column"> & {
    groupby(columns: string[]): { count(): Frame; mean(): Frame };
    column(name: string): {
      mean(): number;
      std(): number;
      ne(value: number): { values: unknown[] };
    };
  };
  const frame = toFrame({
    kind: "table",
    title: "invented",
    columns: [
      { label: "k", format: "text" },
      { label: "x", format: "number" },
    ],
    rows: [{ cells: ["a", 1] }, { cells: ["a", Number.NaN] }],
    notes: [],
  }) as unknown as Whole;

  it("counts them in a group, and makes the group's mean missing but not the column's", () => {
    expect(frame.groupby(["k"]).count().values).toEqual([["a", 2]]);
    expect(frame.groupby(["k"]).mean().values).toEqual([["a", Number.NaN]]);
    expect(frame.column("x").mean()).toBe(1);
    expect(frame.column("x").ne(1).values).toEqual([false, true]);
  });

  it("gives a standard deviation of 0 for one value", () => {
    expect((frame.head(1) as unknown as Whole).column("x").std()).toBe(0);
  });
});

describe("fromFrame", () => {
  it("refuses two columns of one name, and cells that are objects", () => {
    const frame = (values: unknown[][], ...columns: string[]) => partOf<Frame>({ columns, values });
    expect(() => fromFrame(frame([[1, 2]], "a", "a"))).toThrow(
      'fromFrame requires columns of different names, got "a" twice',
    );
    expect(() => fromFrame(frame([[new Date(0)]], "a"))).toThrow('got object in "a"');
    expect(fromFrame(frame([[undefined, Number.NaN, "x"]], "a", "b", "c"))).toEqual([
      { a: null, b: null, c: "x" },
    ]);
  });
});
