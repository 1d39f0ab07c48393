import { execFileSync } from "node:child_process";
import { existsSync } from "node:fs";
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import Zip from "jszip";
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import { fontFiles } from "../../src/figures/render/fonts.js";
import { defineProtocol } from "../../src/protocol/index.js";
import type { FigureSpec, TableModel } from "../../src/results/index.js";
import { runStudy, studyReport } from "../../src/study/index.js";
import { type DrawnFigure, drawFigure } from "../../src/study/publish/drawnFigure.js";
import { reportMarkdown } from "../../src/study/publish/writeMarkdown.js";
import { reportPdf } from "../../src/study/publish/writePdf.js";
import { reportWord } from "../../src/study/publish/writeWord.js";
import type { Report } from "../../src/study/report/report.js";
import { readPdf } from "./readPdf.js";

// Word and PDF of a report, read back: by unzipping and from the PDF's own bytes, and by programs
// that read such files where they are installed (Debian's libreoffice-writer and poppler-utils).
const wordProcessor = ["/usr/bin/soffice", "/usr/bin/libreoffice"].find(existsSync);
const textReader = ["/usr/bin/pdftotext"].find(existsSync);
for (const [name, path] of Object.entries({ LibreOffice: wordProcessor, pdftotext: textReader })) {
  if (path === undefined) console.log(`${name} is not installed: its checks are skipped`);
}

let folder: string;
const reports: Record<
  string,
  { report: Report; figures: Map<string, DrawnFigure>; word: Uint8Array; pdf: Uint8Array }
> = {};

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "meridional-documents-"));
  for (const name of ["children", "demo"]) {
    const json = JSON.parse(await readFile(`data/${name}/protocol.json`, "utf8"));
    const result = await runStudy(defineProtocol({ ...json, replicates: 100 }), {
      folder: `data/${name}`,
    });
    const report = studyReport(result);
    const figures = new Map<string, DrawnFigure>();
    for (const figure of blocks(report, "figure")) {
      figures.set(figure.name, await drawFigure(figure));
    }
    const [word, pdf] = [await reportWord(report, figures), await reportPdf(report, figures)];
    reports[name] = { report, figures, word, pdf };
  }
}, 180_000);
afterAll(() => rm(folder, { recursive: true, force: true }));

function blocks(report: Report, kind: "figure"): FigureSpec[];
function blocks(report: Report, kind: "table"): TableModel[];
function blocks(report: Report, kind: "figure" | "table") {
  return report.sections.flatMap((section) =>
    section.blocks.filter((block) => block.kind === kind),
  );
}

/** A report of one table that goes over several pages, with a cell longer than a page. */
const longTable: Report = {
  kind: "report",
  title: "A long table",
  statement: "Invented.",
  caution: "Research use only.",
  sections: [
    {
      id: "long",
      title: "Long",
      blocks: [
        {
          kind: "table",
          title: "Rows",
          columns: [
            { label: "Row heading", format: "text" },
            { label: "Value", format: "number" },
          ],
          rows: [
            ...Array.from({ length: 150 }, (_, row) => ({ cells: [`row ${row + 1}.`, row] })),
            { cells: [`${"word ".repeat(2000)}end.`, 1] },
          ],
          notes: ["A note."],
        },
      ],
    },
  ],
};

const documentOf = async (zip: Zip) => zip.file("word/document.xml")!.async("string");
const plain = (text: string) => text.replace(/\s+/g, "");
/** What a reader sees of a text: minus signs for hyphens before numbers, ≤ and ≥ for <= and >=. */
const seen = (text: string) =>
  plain(
    text
      .replace(/(^|[( ])-(?=\d)/g, "$1−")
      .replaceAll("<=", "≤")
      .replaceAll(">=", "≥"),
  );
const escaped = (text: string) =>
  text
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;")
    .replaceAll('"', "&quot;");

describe.each(["children", "demo"])("report.docx of the %s study", (name) => {
  it("holds the report's sections, tables and figures, in its order", async () => {
    const { report, word } = reports[name];
    const xml = await documentOf(await Zip.loadAsync(word));
    const headings = [...xml.matchAll(/<w:pStyle w:val="Heading1"\/>.*?<w:t[^>]*>([^<]*)</g)];
    expect(headings.map(([, title]) => title)).toEqual(report.sections.map(({ title }) => title));
    const tables = blocks(report, "table");
    expect(tables.length).toBeGreaterThan(10);
    expect(xml.match(/<w:tbl>/g)).toHaveLength(tables.length);
    expect(xml.match(/<w:tblHeader\/>/g)).toHaveLength(tables.length);
    const rows = tables.reduce((sum, table) => sum + table.rows.length + 1, 0);
    expect(xml.match(/<w:tr>|<w:tr /g)).toHaveLength(rows);
    const alternatives = [...xml.matchAll(/<wp:docPr id="(\d+)"[^>]* descr="([^"]*)"/g)];
    expect(alternatives.map(([, , text]) => text)).toEqual(
      blocks(report, "figure").map(({ alt }) => escaped(alt)),
    );
    expect(new Set(alternatives.map(([, id]) => id)).size).toBe(alternatives.length);
    expect(xml.match(/<w:p>|<w:p /g)!.length).toBeGreaterThan(100);
  });

  it("begins with statement, title and caution", async () => {
    const { report, word } = reports[name];
    const xml = await documentOf(await Zip.loadAsync(word));
    const texts = [...xml.matchAll(/<w:t[^>]*>([^<]*)<\/w:t>/g)].map(([, text]) => text);
    expect(texts.slice(0, 3)).toEqual(
      [report.statement, report.title, report.caution].map((text) => escaped(text)),
    );
  });

  it("has a title, a language, and no date but the fixed one", async () => {
    const { report, word } = reports[name];
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

  it.skipIf(wordProcessor === undefined)("opens in a word processor with every text", async () => {
    const { report, word } = reports[name];
    const file = join(folder, `${name}.docx`);
    await writeFile(file, word);
    const text = seen(await converted(file, "txt:Text (encoded):UTF8", "txt"));
    const wanted = [
      report.statement,
      report.title,
      report.caution,
      ...report.sections.flatMap(({ title, blocks }) => [title, ...blocks.flatMap(textsOf)]),
    ];
    expect(wanted.length).toBeGreaterThan(50);
    expect(wanted.filter((part) => !text.includes(seen(part)))).toEqual([]);
  });
});

/** Every text of a block that a document has to hold as it is. */
function textsOf(block: Report["sections"][number]["blocks"][number]): readonly string[] {
  switch (block.kind) {
    case "paragraph":
      return [block.text];
    case "list":
      return block.items;
    case "table":
      return [
        block.title,
        ...block.columns.map(({ label }) => label),
        ...block.rows.flatMap(({ cells }) => cells.filter((cell) => typeof cell === "string")),
        ...block.notes,
      ];
    case "figure":
      return [block.caption];
    case "bench":
      return [block.elsewhere];
  }
}

async function converted(file: string, to: string, ending: string): Promise<string> {
  execFileSync(
    wordProcessor!,
    [`-env:UserInstallation=file://${folder}/profile`, "--headless", "--convert-to", to, file],
    { cwd: folder, stdio: "ignore" },
  );
  return readFile(file.replace(/docx$/, ending), "utf8");
}

describe.each(["children", "demo"])("report.pdf of the %s study", (name) => {
  it("holds every text of the report as text, in its order", async () => {
    const { report, pdf } = reports[name];
    const { pages, outline } = readPdf(pdf);
    const text = plain(pages.join("\n"));
    expect(text).not.toContain("\uFFFD");
    expect(outline).toEqual(report.sections.map(({ title }) => title));
    let at = 0;
    for (const { title } of report.sections) {
      const next = text.indexOf(plain(title), at);
      expect(next, title).toBeGreaterThan(at);
      at = next;
    }
    // a text that goes over to another page has the foot of the page in it
    const foot = new RegExp(
      `${plain(report.title).replace(/[^\w]/g, "\\$&")}\\d+/${pages.length}`,
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
    const { report, pdf } = reports[name];
    const { pages } = readPdf(pdf);
    const first = plain(pages[0]);
    expect(first.startsWith(plain(report.statement + report.title + report.caution))).toBe(true);
    pages.forEach((page, at) => {
      expect(page.endsWith(`${report.title}\n${at + 1} / ${pages.length}`)).toBe(true);
    });
  });

  it("has a title, a language, a structure, and no date but the fixed one", async () => {
    const { report, pdf } = reports[name];
    const { title, language, structure, alternatives, dates } = readPdf(pdf);
    expect(title).toBe(report.title);
    expect(language).toBe("en-GB");
    expect(alternatives).toEqual(blocks(report, "figure").map(({ alt }) => alt));
    const tables = blocks(report, "table");
    expect(structure.H1).toBe(1);
    expect(structure.H2).toBe(report.sections.length);
    expect(structure.Table).toBe(tables.length);
    // a header repeated on another page is decoration: rows are counted once
    expect(structure.TR).toBe(tables.reduce((sum, table) => sum + table.rows.length + 1, 0));
    expect(new Set(dates)).toEqual(new Set(["19800101000000Z"]));
    const file = Buffer.from(pdf).toString("latin1");
    expect(file).toContain("/DisplayDocTitle true");
    expect(file).toContain("/Marked true");
  });

  it.skipIf(textReader === undefined)("is read by another program as by ours", async () => {
    const { pdf } = reports[name];
    const file = join(folder, `${name}.pdf`);
    await writeFile(file, pdf);
    const read = execFileSync(textReader!, ["-raw", file, "-"], { encoding: "utf8" });
    const letters = (text: string) => [...text.replace(/\s+/g, "")].sort().join("");
    expect(letters(read)).toBe(letters(readPdf(pdf).pages.join("\n")));
  });
});

describe("a table over several pages", () => {
  it("repeats its header in the PDF and loses no row", async () => {
    const { pages, structure } = readPdf(await reportPdf(longTable, new Map()));
    expect(pages.length).toBeGreaterThan(3);
    for (const page of pages) expect(page.match(/^Row heading$/gm)).toHaveLength(1);
    const lines = new Set(pages.join("\n").split("\n"));
    const lost = Array.from({ length: 150 }, (_, row) => `row ${row + 1}.`).filter(
      (cell) => !lines.has(cell),
    );
    expect(lost).toEqual([]);
    expect(pages.join(" ").match(/\bword\b/g)).toHaveLength(2000);
    expect(pages.at(-1)).toContain("end.");
    expect(pages.at(-1)).toContain("A note.");
    expect(structure.Table).toBe(1);
  });

  it.skipIf(wordProcessor === undefined || textReader === undefined)(
    "repeats its header in Word, as printed by a word processor",
    async () => {
      const file = join(folder, "long.docx");
      const rows = { ...longTable.sections[0].blocks[0] } as TableModel;
      const short = { ...rows, rows: rows.rows.slice(0, -1) };
      const report = { ...longTable, sections: [{ ...longTable.sections[0], blocks: [short] }] };
      await writeFile(file, await reportWord(report, new Map()));
      await converted(file, "pdf", "pdf");
      const text = execFileSync(textReader!, ["-raw", join(folder, "long.pdf"), "-"], {
        encoding: "utf8",
      });
      const pages = text.split("\f").slice(0, -1);
      expect(pages.length).toBeGreaterThan(2);
      for (const page of pages) expect(page).toContain("Row heading");
    },
  );
});

describe("equal reports", () => {
  afterAll(() => vi.useRealTimers());

  it("give equal bytes at another time", async () => {
    const { report, figures } = reports.demo;
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
      for (const { report } of Object.values(reports)) {
        const letters = new Set(reportMarkdown(report).replace(/\n/g, ""));
        letters.add("−").add("•");
        expect(
          [...letters].filter((one) => !font.hasGlyphForCodePoint(one.codePointAt(0)!)),
        ).toEqual([]);
      }
    }
  });

  it("refuse a figure that was not drawn", async () => {
    const { report } = reports.demo;
    await expect(reportPdf(report, new Map())).rejects.toThrow(/a drawing of each figure/);
    await expect(reportWord(report, new Map())).rejects.toThrow(/a drawing of each figure/);
  });
});
