// What cells leave in the file when results are shown, through the built package and the runner.
import { readFileSync } from "node:fs";
import { beforeAll, describe, expect, it } from "vitest";
import { notebookFiles, notebooksCommand } from "../builders/notebookFiles.js";

interface Output {
  output_type: string;
  name?: string;
  text?: string[];
  data?: Record<string, string | string[]>;
}

const sources = [
  'import { differenceAgainstMeanFigure, limitsOfAgreement, show, toFrame } from "meridional";',
  "const agreement = limitsOfAgreement({ test: [1, 2, 4, 6], reference: [1, 3, 3, 4] });",
  "show(differenceAgainstMeanFigure(agreement))",
  "show(agreement.bias)",
  "show(agreement)",
  "agreement",
  "({ nothing: 1 })",
  'show([{ file: "a.csv", row: 2, column: "axis", value: "1175", rule: "axis-range", message: "m", action: "set-aside" }])',
  "const columns = [{ label: 'M', format: 'dioptres' as const }]; const rows = [{ cells: [-1.25] }];",
  'const table = { kind: "table" as const, title: "t", columns, rows, notes: [] };',
  "const frame = toFrame(table); frame.column('M').values",
  "const n = 7;",
  "const pair = { n, frame }; pair.n",
  'show("a < b", { kind: "Bias (D)", "right eyes": agreement.bias })',
];

describe("show in a notebook", () => {
  const notebook = notebookFiles();
  let outputs: Output[][];
  beforeAll(() => {
    const path = notebook("show", ...sources);
    expect(notebooksCommand("--write", path).stdout).toContain("written");
    outputs = JSON.parse(readFileSync(path, "utf8")).cells.map(
      (cell: { outputs: Output[] }) => cell.outputs,
    );
  });

  const joined = (value: string | string[] | undefined) => [value].flat().join("");
  const bundle = (cell: number) => {
    expect(outputs[cell]).toHaveLength(1);
    return outputs[cell]![0]!.data!;
  };
  const printed = (cell: number) => {
    expect(outputs[cell]!.map(({ name }) => name)).toEqual(["stdout"]);
    return joined(outputs[cell]![0]!.text);
  };

  it("puts a figure into one bundle: a picture with its text, a PNG, the text", () => {
    const data = bundle(2);
    expect(Object.keys(data)).toEqual(["image/png", "text/html", "text/plain"]);
    const alt = joined(data["text/plain"]);
    expect(alt).toContain("bias 0.50 D");
    const [, shownAlt, svg] =
      /<img alt="([^"]*)" width="\d+" src="data:image\/svg\+xml;base64,([^"]*)"/.exec(
        joined(data["text/html"]),
      )!;
    expect(shownAlt).toBe(alt);
    expect(Buffer.from(svg!, "base64").toString()).toMatch(/^<svg /);
    const png = Buffer.from(joined(data["image/png"]), "base64");
    expect(png.subarray(1, 4).toString()).toBe("PNG");
  });

  it("shows an estimate as its value and interval, nothing else", () => {
    expect(bundle(3)).toEqual({ "text/plain": ["0.50 (-1.55 to 2.55)"] });
  });

  it("shows any other result as a table, and prints the same table for a bare one", () => {
    const data = bundle(4);
    expect(joined(data["text/html"])).toContain("<table>");
    expect(joined(data["text/plain"])).toContain("| bias | 0.50 (-1.55 to 2.55) (a) |");
    expect(printed(5)).toBe(`${joined(data["text/plain"])}\n`);
    expect(printed(6)).toBe("{ nothing: 1 }\n");
  });

  it("shows problems as a list that opens at a click, without the cell's value", () => {
    expect(joined(bundle(7)["text/html"])).toContain("<details><summary>1 problem</summary>");
    expect(JSON.stringify(outputs[7])).not.toContain("1175");
  });

  it("shows a text as a paragraph, and an object of results as a table with its title", () => {
    const [text, table] = outputs[13]!.map(({ data }) => data!);
    expect(text).toEqual({ "text/html": ["<p>a &lt; b</p>"], "text/plain": ["a < b"] });
    expect(joined(table!["text/html"])).toContain(">Bias (D)</caption>");
    expect(joined(table!["text/plain"])).toContain("| right eyes | 0.50 (-1.55 to 2.55) |");
  });

  it("makes frames without a banner", () => {
    expect(printed(10)).toBe("[ -1.25 ]\n");
  });

  it("knows in a short property what an earlier cell declared", () => {
    expect(printed(12)).toBe("7\n");
  });
});
