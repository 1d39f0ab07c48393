import { readFile } from "node:fs/promises";
import Zip from "jszip";
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import { fontFiles } from "../../src/figures/render/fonts.js";
import type { TableModel } from "../../src/results/index.js";
import { reportMarkdown } from "../../src/study/publish/writeMarkdown.js";
import { reportPdf } from "../../src/study/publish/writePdf.js";
import { reportWord } from "../../src/study/publish/writeWord.js";
import { blocksOf, type Documents, documentsOf, seen, textsOf, withoutSpace } from "./documents.js";
import { readPdf } from "./readPdf.js";

// Word and PDF of a report, read back by unzipping and from the PDF's own bytes; other programs
// read them in documents.outside.ts.

const documentOf = async (zip: Zip) => zip.file("word/document.xml")!.async("string");
const escaped = (text: string) =>
  text
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;")
    .replaceAll('"', "&quot;");

/** Rows as printed, the header's among them; a share stands behind its count. */
const printedRows = (tables: readonly TableModel[]) =>
  tables
    .map(({ rows }) => 1 + rows.filter(({ shareOfAbove }) => shareOfAbove === undefined).length)
    .reduce((sum, count) => sum + count, 0);

export function documentTests(name: "children" | "demo"): void {
  let documents: Documents;
  beforeAll(async () => {
    documents = await documentsOf(name);
  });

  describe(`report.docx of the ${name} study`, () => {
    it("holds the report's sections, tables and figures, in its order", async () => {
      const { report, word } = documents;
      const xml = await documentOf(await Zip.loadAsync(word));
      const headings = [...xml.matchAll(/<w:pStyle w:val="Heading1"\/>.*?<w:t[^>]*>([^<]*)</g)];
      expect(headings.map(([, title]) => title)).toEqual(report.sections.map(({ title }) => title));
      const tables = blocksOf(report, "table");
      expect(tables.length).toBeGreaterThan(10);
      expect(xml.match(/<w:tbl>/g)).toHaveLength(tables.length);
      expect(xml.match(/<w:tblHeader\/>/g)).toHaveLength(tables.length);
      expect(xml.match(/<w:tr>|<w:tr /g)).toHaveLength(printedRows(tables));
      const alternatives = [...xml.matchAll(/<wp:docPr id="(\d+)"[^>]* descr="([^"]*)"/g)];
      expect(alternatives.map(([, , text]) => text)).toEqual(
        blocksOf(report, "figure").map(({ alt }) => escaped(alt)),
      );
      expect(new Set(alternatives.map(([, id]) => id)).size).toBe(alternatives.length);
      expect(xml.match(/<w:p>|<w:p /g)!.length).toBeGreaterThan(100);
    });

    it("numbers tables and figures by sequence fields, as the other forms do in words", async () => {
      const { report, word } = documents;
      const zip = await Zip.loadAsync(word);
      const xml = await documentOf(zip);
      const titles: { readonly [kind in "Table" | "Figure"]: readonly string[] } = {
        Table: blocksOf(report, "table").map(({ title }) => title),
        Figure: blocksOf(report, "figure").map(({ caption }) => caption),
      };
      const markdown = reportMarkdown(report);
      for (const kind of ["Table", "Figure"] as const) {
        const fields = [
          ...xml.matchAll(
            new RegExp(`<w:fldSimple w:instr=" SEQ ${kind} [^"]*">.*?<w:t[^>]*>(\\d+)</w:t>`, "g"),
          ),
        ].map(([, number]) => Number(number));
        expect(fields).toEqual(titles[kind].map((_, at) => at + 1));
        const said = markdown.match(new RegExp(`^\\*+${kind} \\d+\\. `, "gm")) ?? [];
        expect(said.map((words) => Number(/\d+/.exec(words)))).toEqual(fields);
      }
      const styles = await zip.file("word/styles.xml")!.async("string");
      expect(styles).toContain('w:styleId="Caption"');
      expect(styles).toContain('<w:basedOn w:val="Caption"/>');
      // the checklists refer by number, to a table that is there
      const named = [...markdown.matchAll(/(?<![*\d] ?)\bTable (\d+)\b(?!\.)/g)].map(([, at]) =>
        Number(at),
      );
      expect(named.length).toBeGreaterThan(2);
      expect(Math.max(...named)).toBeLessThanOrEqual(titles.Table.length);
    });

    it("begins with statement, title and caution", async () => {
      const { report, word } = documents;
      const xml = await documentOf(await Zip.loadAsync(word));
      const texts = [...xml.matchAll(/<w:t[^>]*>([^<]*)<\/w:t>/g)].map(([, text]) => text);
      expect(texts.slice(0, 3)).toEqual(
        [report.statement, report.title, report.caution].map((text) => escaped(text)),
      );
    });

    it("has a title, a language, and no date but the fixed one", async () => {
      const { report, word } = documents;
      const zip = await Zip.loadAsync(word);
      const core = await zip.file("docProps/core.xml")!.async("string");
      expect(core).toContain(`<dc:title>${escaped(report.title)}</dc:title>`);
      expect(core).toContain("<dc:language>en-GB</dc:language>");
      expect(core.match(/\d{4}-\d\d-\d\dT[\d:]+Z/g)).toEqual(Array(2).fill("1980-01-01T00:00:00Z"));
      const styles = await zip.file("word/styles.xml")!.async("string");
      expect(styles).toContain('<w:lang w:val="en-GB"/>');
      for (const entry of Object.values(zip.files)) {
        expect(entry.date.toISOString(), entry.name).toBe("1980-01-01T00:00:00.000Z");
      }
    });
  });

  describe(`report.pdf of the ${name} study`, () => {
    it("holds every text of the report as text, in its order", async () => {
      const { report, pdf } = documents;
      const { pages, outline } = readPdf(pdf);
      const text = withoutSpace(pages.join("\n"));
      expect(text).not.toContain("\uFFFD");
      expect(outline).toEqual(report.sections.map(({ title }) => title));
      let at = 0;
      for (const { title } of report.sections) {
        const next = text.indexOf(withoutSpace(title), at);
        expect(next, title).toBeGreaterThan(at);
        at = next;
      }
      // a text that goes over to another page has the foot of the page in it
      const foot = new RegExp(
        `${withoutSpace(report.title).replace(/[^\w]/g, "\\$&")}\\d+/${pages.length}`,
        "g",
      );
      const whole = text.replace(foot, "");
      const wanted = report.sections.flatMap(({ blocks }) =>
        blocks.flatMap((block) =>
          block.kind === "table" ? [block.title, ...block.notes] : textsOf(block),
        ),
      );
      expect(wanted.length).toBeGreaterThan(50);
      expect(wanted.filter((part) => !whole.includes(seen(part)))).toEqual([]);
    });

    it("begins with statement, title and caution, and numbers its pages", async () => {
      const { report, pdf } = documents;
      const { pages } = readPdf(pdf);
      const first = withoutSpace(pages[0]);
      expect(first.startsWith(withoutSpace(report.statement + report.title + report.caution))).toBe(
        true,
      );
      pages.forEach((page, at) => {
        expect(page.endsWith(`${report.title}\n${at + 1} / ${pages.length}`)).toBe(true);
      });
    });

    it("has a title, a language, a structure, and no date but the fixed one", async () => {
      const { report, pdf } = documents;
      const { title, language, structure, alternatives, dates } = readPdf(pdf);
      expect(title).toBe(report.title);
      expect(language).toBe("en-GB");
      expect(alternatives).toEqual(blocksOf(report, "figure").map(({ alt }) => alt));
      const tables = blocksOf(report, "table");
      expect(structure.H1).toBe(1);
      expect(structure.H2).toBe(report.sections.length);
      expect(structure.Table).toBe(tables.length);
      // a header repeated on another page is decoration: rows are counted once
      expect(structure.TR).toBe(printedRows(tables));
      expect(new Set(dates)).toEqual(new Set(["19800101000000Z"]));
      const file = Buffer.from(pdf).toString("latin1");
      expect(file).toContain("/DisplayDocTitle true");
      expect(file).toContain("/Marked true");
    });
  });

  describe(`equal reports of the ${name} study`, () => {
    afterAll(() => vi.useRealTimers());

    it("give equal bytes at another time", async () => {
      const { report, figures } = documents;
      const written: Buffer[][] = [];
      for (const now of ["2026-02-03T04:05:06Z", "2031-12-11T10:09:08Z"]) {
        vi.useFakeTimers({ toFake: ["Date"], now: new Date(now) });
        written.push(
          [await reportWord(report, figures), await reportPdf(report, figures)].map((file) =>
            Buffer.from(file),
          ),
        );
        expect(new Date().toISOString().slice(0, 10)).toBe(now.slice(0, 10));
        vi.useRealTimers();
      }
      expect(written[1][0].equals(written[0][0])).toBe(true);
      expect(written[1][1].equals(written[0][1])).toBe(true);
    });

    it("have every letter in the bundled fonts", async () => {
      const { create } = await import("fontkit");
      for (const file of Object.values(fontFiles)) {
        const font = create(await readFile(file)) as unknown as {
          hasGlyphForCodePoint(code: number): boolean;
        };
        const letters = new Set(reportMarkdown(documents.report).replace(/\n/g, ""));
        letters.add("−").add("•");
        expect(
          [...letters].filter((one) => !font.hasGlyphForCodePoint(one.codePointAt(0)!)),
        ).toEqual([]);
      }
    });

    it("refuse a figure that was not drawn", async () => {
      const { report } = documents;
      await expect(reportPdf(report, new Map())).rejects.toThrow(/a drawing of each figure/);
      await expect(reportWord(report, new Map())).rejects.toThrow(/a drawing of each figure/);
    });
  });
}
