// What cells leave in the file when results are shown, through the built package and the runner.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { beforeAll, describe, expect, it } from "vitest";
import { patchConverter } from "../../src/notebook/patchConverter.js";
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

describe("completion and hover in a cell", () => {
  interface Converter {
    convert(
      earlier: string,
      source: string,
    ): { declOutput: string; diagnostics: { messageText: string }[] };
    complete(earlier: string, source: string, at: number): { candidates: string[] };
    inspect(earlier: string, source: string, at: number): unknown;
    close(): void;
  }
  const require = createRequire(import.meta.url);
  patchConverter();
  const { createConverter } = require("tslab/dist/converter.js") as {
    createConverter(options: object): Converter;
  };
  const { printQuickInfo } = require("tslab/dist/inspect.js") as {
    printQuickInfo(info: unknown): string;
  };

  it("offer the members of a result and the options of a call, and show units and an example", () => {
    // the converter takes types from its folder
    const converter = createConverter({ isJS: false, isBrowser: false });
    try {
      const { declOutput } = converter.convert(
        "",
        'import { limitsOfAgreement, meanInterval, toPowerVector } from "meridional";\nconst a = meanInterval([1, 2, 3]);',
      );
      expect(converter.complete(declOutput, "limitsOf", 8).candidates).toEqual([
        "limitsOfAgreement",
      ]);
      const typed = 'import { interocularD } from "meridional";';
      expect(converter.complete("", typed, typed.indexOf(" }")).candidates).toContain(
        "interocularDifference",
      );
      expect(converter.complete(declOutput, "a.", 2).candidates).toContain("kind");
      const call = "limitsOfAgreement({ test: [1], reference: [2] }, {";
      expect(converter.complete(declOutput, call, call.length).candidates).toContain("coverage");
      const hover = printQuickInfo(converter.inspect(declOutput, call, 4));
      expect(hover).toContain("test minus reference");
      expect(hover).toContain("// =>");
      const lens = "toPowerVector({ sphere: 1, cylinder: -0.5, axis: 180 })";
      const shown = printQuickInfo(converter.inspect(declOutput, lens, 4));
      expect(shown).toMatch(/dioptres/);
      expect(shown).toMatch(/degrees/);
      expect(shown).toContain("// =>");

      // within an import that is not finished; names that are there are not offered again
      const open = "import { limitsOfAgreement, lim";
      const { candidates, ...place } = converter.complete("", open, open.length);
      expect(place).toMatchObject({ start: open.length - 3, end: open.length });
      expect(candidates).toContain("limitHeatMapFigure");
      expect(candidates).not.toContain("limitsOfAgreement");
      const other = 'import { readF } from "node:fs";';
      expect(converter.complete("", other, other.indexOf(" }")).candidates).toContain(
        "readFileSync",
      );

      // what a word should have been, and where the package is found
      const messageOf = (source: string) =>
        converter.convert("", source).diagnostics[0]!.messageText;
      expect(
        messageOf(
          'import { eyePairs } from "meridional"; eyePairs(null as never, { eyes: "both", quantity: "SE" })',
        ),
      ).toBe(`Type '"SE"' is not assignable to type 'Quantity'. It takes "J0", "J45", "M".`);
      expect(messageOf('const a: "x" | "y" = "z"')).toBe(
        `Type '"z"' is not assignable to type '"x" | "y"'.`,
      );
      expect(messageOf('import { x } from "nowhere"')).toBe(
        "Cannot find module 'nowhere' or its corresponding type declarations.",
      );
    } finally {
      converter.close();
    }
  });
});
