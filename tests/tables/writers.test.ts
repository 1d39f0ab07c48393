import { parse as parseCsv } from "csv-parse/sync";
import fc from "fast-check";
import { type DefaultTreeAdapterMap, parseFragment, parse as parseHtml, serialize } from "parse5";
import { describe, expect, it } from "vitest";
import { toCsv, toHtml, toLatex, toMarkdown, toWord } from "../../src/tables/index.js";
import type { TableModel } from "../../src/results/index.js";
import { plainText } from "../../src/text/index.js";
import { exampleTable as table, wilson } from "./exampleTable.js";

describe("toMarkdown", () => {
  it("prints rounded numbers, intervals, footnotes and notes", () => {
    expect(toMarkdown(table)).toBe(
      `**Accuracy at &lt;= -3.00 D &amp; "more"**

| measure | n | value (a) | bias (D) (a) |
| --- | ---: | ---: | ---: |
| **All eyes** |  |  |  |
| sensitivity | 1071 | 0.85 (0.79 to 0.90) | -0.38 |
| area | 20,000 | 0.975 (0.966 to 0.985) | -3.09 (-3.31 to -2.89) |
| =1+1 | – (b) | – (c) | at least 3.25 (c) |

(a) In brackets, 95 % interval: Wilson

(b) small

(c) no child was examined

100 % of {rows} \\| kept\\_all
`,
    );
  });

  it("prints a share behind the count above it, and none where there is no count", () => {
    const counts = (cells: TableModel["rows"][number]["cells"]) => ({ cells });
    const shares = (cells: TableModel["rows"][number]["cells"]) =>
      ({ cells, format: "percent", shareOfAbove: true }) as const;
    const groups: TableModel = {
      kind: "table",
      title: "Groups",
      columns: [
        { label: "", format: "text" },
        { label: "All", format: "count" },
        { label: "Examined", format: "count" },
      ],
      rows: [
        counts(["Right", 1233, { kind: "suppressed", reason: "small" }]),
        shares(["  share", 0.4058, { kind: "suppressed", reason: "small" }]),
        counts(["Left", 0, 12]),
        shares(["  share", { kind: "undefined", reason: "no children" }, 0.5]),
        counts(["Mean", 3, null]),
      ],
      notes: [],
    };
    const text = toMarkdown(groups);
    expect(text).toContain(
      "| Right | 1233 (40.6 %) | – (a) |\n| Left | 0 | 12 (50.0 %) |\n| Mean | 3 |  |",
    );
    expect(text).not.toMatch(/share|no children/);
    // for reuse each number is a field
    expect(toCsv(groups)).toContain("Right,1233,suppressed: small\n  share,0.4058,");
  });

  it("letters the method at the heading of a column that has one, at the cells of one that has several", () => {
    const exact = { ...wilson, method: "clopper-pearson" };
    const cell = (of: typeof wilson) => ({ ...of, value: 0.5, low: 0.25, high: 0.75 });
    const columns = ["one", "several"].map((label) => ({ label, format: "proportion" }) as const);
    const two: TableModel = {
      ...table,
      columns,
      rows: [
        { cells: [cell(wilson), cell(wilson)] },
        { cells: [cell(wilson), cell(exact as typeof wilson)] },
      ],
    };
    const text = toMarkdown(two);
    expect(text).toContain("| one (a) | several |");
    expect(text).toContain(
      "| 0.50 (0.25 to 0.75) | 0.50 (0.25 to 0.75) (a) |\n| 0.50 (0.25 to 0.75) | 0.50 (0.25 to 0.75) (b) |",
    );
    expect(text).toContain("(b) In brackets, 95 % interval: Clopper-Pearson\n");
    expect(text.match(/Wilson/g)).toHaveLength(1);
  });

  it("prints numbers in the style of a journal", () => {
    const text = toMarkdown(table, { numbers: { decimal: "comma", thousands: "thin-space" } });
    expect(text).toContain("| area | 20\u2009000 | 0,975 (0,966 to 0,985) |");
    expect(toMarkdown(table, { numbers: { decimal: "raised", thousands: "comma" } })).toContain(
      "| area | 20,000 | 0\u00b7975 (0\u00b7966 to 0\u00b7985) |",
    );
  });

  it("prints each level where a table has several", () => {
    const mixed = {
      ...table,
      rows: [
        { cells: ["a", 1, { ...wilson, value: 0.5, low: 0.25, high: 0.75 }] },
        { cells: ["b", 1, { ...wilson, level: 0.9, value: 0.5, low: 0.3, high: 0.7 }] },
      ],
    };
    expect(toMarkdown(mixed)).toContain("0.50 (95 %: 0.25 to 0.75)");
    expect(toMarkdown(mixed)).toContain("0.50 (90 %: 0.30 to 0.70)");
    expect(toMarkdown(mixed)).not.toContain("In brackets");
  });
});

describe("toCsv", () => {
  it("writes numbers unrounded, intervals as columns, reasons as text, formulas as text", () => {
    expect(toCsv(table)).toBe(
      [
        "measure,n,value,value low,value high,bias (D),bias (D) low,bias (D) high",
        "All eyes,,,,,,,",
        "sensitivity,1071,0.85,0.79,0.9,-0.3757,,",
        "area,20000,0.97534,0.96571,0.98497,-3.0874,-3.3113,-2.8853",
        "'=1+1,suppressed: small,not estimated: no child was examined,,,not estimated: no child was examined,3.25,",
        "",
      ].join("\n"),
    );
  });

  it("gives every text back to a reader, with an apostrophe before a formula only", () => {
    fc.assert(
      fc.property(fc.array(fc.string({ unit: "grapheme" }), { minLength: 1 }), (texts) => {
        const written = toCsv({
          kind: "table",
          title: "",
          columns: [
            { label: "text", format: "text" },
            { label: "n", format: "count" },
          ],
          rows: texts.map((text) => ({ cells: [text, -1] })),
          notes: [],
        });
        const read: string[][] = parseCsv(written);
        expect(read.slice(1).map(([text]) => text!)).toEqual(
          // signs that nobody can print are cleaned first; tests/text says which
          texts.map(plainText).map((text) => (/^\s*[=+\-@\t\r]/.test(text) ? `'${text}` : text)),
        );
        expect(read.slice(1).every(([, n]) => n === "-1")).toBe(true);
      }),
    );
  });
});

describe("toHtml", () => {
  // The parsing rules of the HTML standard, by parse5: it reports what the tokenizer rejects, and
  // what the tree builder had to repair shows when the tree is written out again.
  function breaches(html: string): string[] {
    const found: string[] = [];
    const page = `<!doctype html><html lang="en"><head><title>t</title></head><body>${html}</body></html>`;
    parseHtml(page, { onParseError: ({ code }) => found.push(code) });
    const plain = html.replaceAll("&quot;", '"').replaceAll("&#39;", "'");
    if (serialize(parseFragment(html)) !== plain) found.push("repaired");
    return found;
  }

  function text(node: DefaultTreeAdapterMap["node"]): string {
    if (node.nodeName === "#text") return (node as DefaultTreeAdapterMap["textNode"]).value;
    return "childNodes" in node ? node.childNodes.map(text).join("") : "";
  }

  it("is valid, with a caption, header cells and true minus signs", () => {
    const html = toHtml(table);
    expect(breaches(html)).toEqual([]);
    expect(html).toContain(">Accuracy at ≤ −3.00 D &amp; &quot;more&quot;</caption>");
    expect(html).toContain('<th scope="col" style="text-align:right">n</th>');
    expect(html).toContain('<th scope="col" style="text-align:left">bias (D)<sup>');
    expect(text(parseHtml(html))).toContain("−3.09 (−3.31 to −2.89)");
    expect(html).toContain('<span style="white-space:nowrap">(−3.31 to −2.89)</span>');
    expect(html).toContain("note </span>c</sup></td>");
    // who hears the page hears that a letter is a note
    expect(text(parseHtml(html))).toContain("bias (D)note a");
  });

  it("sets decimal signs below each other, by boxes as wide as the longest whole part", () => {
    const columns = [
      { label: "x", format: "text" } as const,
      { label: "y", format: "dioptres" } as const,
    ];
    const rows = [-12.5, 3, null].map((value) => ({ cells: ["", value] }));
    const html = toHtml({ kind: "table", title: "", columns, rows, notes: [] });
    const box = 'style="display:inline-block;min-width:3ch;text-align:right"';
    expect(html).toContain(`<span ${box}>−12</span>.50</td>`);
    expect(html).toContain(`<span ${box}>3</span>.00</td>`);
  });

  it("keeps the steps in before a label", () => {
    const rows = [{ cells: ["all", 3] }, { cells: ["  of these", 2] }, { cells: ["    two", 1] }];
    const columns = [
      { label: "", format: "text" },
      { label: "n", format: "count" },
    ] as const;
    const html = toHtml({ kind: "table", title: "", columns, rows, notes: [] });
    expect(html).toContain(">\u2003of these</th>");
    expect(html).toContain(">\u2003\u2003two</th>");
  });

  it("sees a breach where there is one", () => {
    expect(breaches("<table><p>stray</p></tabel>")).not.toEqual([]);
  });

  it("escapes whatever a label holds", () => {
    const printable = fc.string({ unit: fc.constantFrom(..."<>&\"'/!-=aé") });
    fc.assert(
      fc.property(printable, (label) => {
        const html = toHtml({ ...table, title: label, notes: [label] });
        expect(breaches(html)).toEqual([]);
        const printed = label.replaceAll("<=", "≤").replaceAll(">=", "≥");
        expect(text(parseHtml(html))).toContain(printed);
      }),
    );
  });
});

describe("toLatex", () => {
  it("uses the rules of booktabs and escapes every special sign", () => {
    const latex = toLatex(table);
    expect(latex).toContain("\\begin{tabular}{lrll}\n  \\toprule\n");
    expect(latex).toContain("\\textbf{All eyes} &  &  &  \\\\");
    expect(latex).toContain(
      "area & 20,000 & 0.975 (0.966 to 0.985) & $-$3.09 ($-$3.31 to $-$2.89)",
    );
    expect(latex).toContain("100 \\% of \\{rows\\} \\textbar{} kept\\_all");
    expect(latex).toContain("--\\textsuperscript{c}");
  });
});

describe("toWord", () => {
  it("writes a document whose text is the table's", async () => {
    const { default: Zip } = await import("jszip");
    const zip = await Zip.loadAsync(await toWord(table));
    const xml = await zip.file("word/document.xml")!.async("string");
    const texts = [...xml.matchAll(/<w:t[^>]*>([^<]*)<\/w:t>/g)].map(([, part]) => part);
    expect(texts).toContain("0.85 (0.79\u00a0to\u00a00.90)");
    expect(texts).toContain("−3.09 (−3.31\u00a0to\u00a0−2.89)");
    expect(texts).toContain(" no child was examined");
    expect(xml.match(/<w:tr>|<w:tr /g)).toHaveLength(5);
  });
});
