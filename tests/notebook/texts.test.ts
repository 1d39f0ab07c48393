import { describe, expect, it } from "vitest";
import { accuracyFromCounts } from "../../src/accuracy/index.js";
import { biasBy, limitsOfAgreement } from "../../src/agreement/index.js";
import { show } from "../../src/notebook/index.js";
import { problemsHtml, problemsText } from "../../src/notebook/problemsText.js";
import { estimateText } from "../../src/notebook/views/estimateText.js";
import { flowTable } from "../../src/notebook/views/flowTable.js";
import { generalTables } from "../../src/notebook/views/generalTables.js";
import { viewOf } from "../../src/notebook/views/index.js";
import { reconstructTwoByTwo } from "../../src/printed/index.js";

const estimate = { kind: "estimate", level: 0.95, method: "wilson" } as const;

describe("estimateText", () => {
  it("prints the value and its interval, with more decimals where the interval is narrow", () => {
    expect(estimateText({ ...estimate, value: 0.85, low: 0.79, high: 0.9 })).toBe(
      "0.85 (0.79 to 0.90)",
    );
    expect(estimateText({ ...estimate, value: 0.97534, low: 0.96571, high: 0.98497 })).toBe(
      "0.975 (0.966 to 0.985)",
    );
    expect(estimateText({ ...estimate, value: -3.0874, low: -3.3113, high: -2.8853 })).toBe(
      "-3.09 (-3.31 to -2.89)",
    );
  });

  it("has no negative zero, and names a level that is not 95 %", () => {
    const odd = { ...estimate, value: -0.001, low: -0.3, high: 0.3, level: 0.9 };
    expect(estimateText(odd)).toBe("0.00 (90 %: -0.30 to 0.30)");
  });

  it("prints the reason for what could not be estimated", () => {
    expect(estimateText({ kind: "undefined", reason: "no child was examined" })).toBe(
      "not estimated: no child was examined",
    );
    expect(estimateText({ kind: "undefined", reason: "no false positive", low: 3.25 })).toBe(
      "not estimated, at least 3.25: no false positive",
    );
  });
});

describe("problems", () => {
  const problem = {
    file: "folder/readings.csv",
    row: 7,
    column: "axis",
    value: "secret <1175>",
    rule: "axis-range",
    message: "an axis lies in [0, 180]",
    action: "set-aside",
  };
  const other = {
    ...problem,
    row: null,
    column: null,
    rule: "encoding",
    message: "a < b",
    action: "kept",
  };

  it("are counted by rule, the most frequent first", () => {
    expect(problemsText([other, problem, { ...problem, row: 9 }])).toBe(
      "3 problems\n  2 × axis-range (set-aside): an axis lies in [0, 180]\n  1 × encoding (kept): a < b",
    );
    expect(problemsText([])).toBe("no problems");
  });

  it("open at a click, by file name and line, and never show the value of a cell", () => {
    const html = problemsHtml([other, problem]);
    expect(html).toContain("<details><summary>2 problems</summary>");
    expect(html).toContain("<li>readings.csv, line 7, axis</li>");
    expect(html).toContain("<li>readings.csv, whole file</li>");
    expect(html).toContain("a &lt; b");
    expect(html).not.toContain("secret");
    expect(html).not.toContain("folder");
  });

  it("list at most twenty places a rule", () => {
    const many = Array.from({ length: 25 }, (_, row) => ({ ...problem, row }));
    expect(problemsHtml(many).match(/<li>/g)).toHaveLength(21);
    expect(problemsHtml(many)).toContain("and 5 more");
  });
});

describe("generalTables", () => {
  it("has a row for each number, text and estimate, and leaves columns of data out", () => {
    const bias = { ...estimate, value: 1, low: 0, high: 2 };
    const [table] = generalTables({
      kind: "limits-of-agreement",
      n: 85,
      bias,
      counted: { kind: "counts", truePositive: 3, inner: { J45: 0.5 } },
      lower: { kind: "undefined", reason: "one row" },
      differences: new Float64Array(85),
      few: [1, 1 / 3],
      share: 0.95,
      youdenIndex: 0.5,
      foundPer1000: 17,
      slope: 1 / 7,
      left: null,
      nothing: undefined,
      notes: ["the intervals assume independent rows"],
      caution: "research use only",
    });
    expect(table!.notes).toEqual(["the intervals assume independent rows", "research use only"]);
    expect(table!.title).toBe("limits of agreement");
    expect(table!.rows.map(({ cells }) => cells)).toEqual([
      ["n", 85],
      ["bias", bias],
      ["counted, true positive", 3],
      ["lower", { kind: "undefined", reason: "one row" }],
      ["few", "1, 0.3333"],
      ["share", "0.95"],
      ["Youden index", "0.5"],
      ["found per 1000", 17],
      ["slope", 1 / 7],
    ]);
    expect(table!.rows[0]!.format).toBe("count");
  });

  it("stays short, and says what it leaves out", () => {
    const [table] = generalTables(
      Object.fromEntries(Array.from({ length: 60 }, (_, index) => [`a${index}`, index])),
    );
    expect(table!.rows).toHaveLength(40);
    expect(table!.notes).toEqual(["20 more members are not shown"]);
  });
});

describe("viewOf", () => {
  const table = { truePositive: 389, falsePositive: 92, falseNegative: 15, trueNegative: 575 };

  it("puts the answer first, then the 2x2 table with its margins, then rates in percent", () => {
    const { headline, tables } = viewOf(accuracyFromCounts(table));
    expect(headline).toBe(
      "Sensitivity 96.3 % (94.0 to 97.7), specificity 86.2 % (83.4 to 88.6); 1071 rows.",
    );
    expect(tables[0]!.rows.map(({ cells }) => cells)).toEqual([
      ["Referred", 389, 92, 481],
      ["Passed", 15, 575, 590],
      ["All", 404, 667, 1071],
    ]);
    const prevalence = tables[1]!.rows.find(({ cells }) => cells[0] === "prevalence");
    expect(prevalence!.format).toBe("percent");
  });

  it("names the table that a printed one was reconstructed to", () => {
    const { headline } = viewOf(
      reconstructTwoByTwo({
        n: 185,
        printed: { sensitivity: "100", specificity: "87.04", positivePredictiveValue: "52.27" },
      }),
    );
    expect(headline).toContain("One table prints so: 23/21/0/141");
  });

  it("shows each group with its n", () => {
    const test = [1, 2, 3, 4, 5, 7, 4, 5];
    const reference = [1, 2, 2, 3, 3, 4, 4, 4];
    const by = [3, 4, 4, 8, 9, 9, 4, 8];
    const { tables, figure } = viewOf(
      biasBy({ test, reference, by }, { label: "age", breaks: [6] }),
    );
    const groups = tables.find(({ title }) => title === "groups")!;
    expect(groups.columns.slice(0, 3).map(({ label }) => label)).toEqual([
      "group",
      "n",
      "subjects",
    ]);
    expect(groups.rows.map(({ cells }) => cells.slice(0, 2))).toEqual([
      ["below 6", 4],
      ["6 and over", 4],
    ]);
    expect(figure?.kind).toBe("figure");
  });

  it("draws rows that are given with the result, and leaves figures out when told to", () => {
    const test = Array.from({ length: 60 }, (_, row) => (row % 9) / 4);
    const reference = test.map((value, row) => value - (row % 4) / 4);
    const agreement = limitsOfAgreement({ test, reference }, { conditional: "skip" });
    expect(viewOf(agreement).figure).toBeNull();
    expect(viewOf(agreement, { test, reference }).figure?.kind).toBe("figure");
    expect(viewOf(agreement, { test, reference }, false).figure).toBeNull();
    const text = show(agreement, { test, reference }, { figure: false })!;
    expect(text).toMatch(/^Bias /);
    expect(text).not.toContain("undefined");
  });
});

describe("flowTable", () => {
  it("indents the parts of a box and leaves out empty ones", () => {
    const box = (id: string, partOf: string | null, children: number) => {
      return { id, label: id, partOf, children, eyes: 2 * children, role: "kept" } as const;
    };
    const boxes = [
      box("all", null, 3),
      box("none", "all", 0),
      box("read", "all", 3),
      box("paired", "read", 2),
    ];
    expect(flowTable({ kind: "flow", boxes }).rows.map(({ cells }) => cells)).toEqual([
      ["all", 3, 6],
      ["\u2003read", 3, 6],
      ["\u2003\u2003paired", 2, 4],
    ]);
  });
});
