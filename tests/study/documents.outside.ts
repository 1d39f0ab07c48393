import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { TableModel } from "../../src/results/index.js";
import { numbered } from "../../src/study/publish/numbered.js";
import { reportWord } from "../../src/study/publish/writeWord.js";
import { type Documents, documentsOf, longTable, seen, textsOf } from "../builders/documents.js";
import { convertDocument, runProgram } from "../builders/program.js";
import { readPdf } from "../builders/readPdf.js";

// Word and PDF of a report, read by programs that are not ours.
let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "meridional-documents-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

describe.each(["children", "demo"] as const)("the documents of the %s study", (name) => {
  let documents: Documents;
  beforeAll(async () => {
    documents = await documentsOf(name);
  });

  it("as Word, open in a word processor with every text", async () => {
    const { word } = documents;
    const report = numbered(documents.report);
    await writeFile(join(folder, `${name}.docx`), word);
    convertDocument(folder, `${name}.docx`, "txt:Text (encoded):UTF8");
    const text = seen(await readFile(join(folder, `${name}.txt`), "utf8"));
    const wanted = [
      report.statement,
      report.title,
      report.caution,
      ...report.sections.flatMap(({ title, blocks }) => [title, ...blocks.flatMap(textsOf)]),
    ];
    expect(wanted.length).toBeGreaterThan(50);
    expect(wanted.filter((part) => !text.includes(seen(part)))).toEqual([]);
  });

  it("as PDF, are read by another program as by ours", async () => {
    const { pdf } = documents;
    const read = runProgram("pdftotext", ["-raw", "-", "-"], { input: pdf });
    const letters = (text: string) => [...text.replace(/\s+/g, "")].sort().join("");
    expect(letters(read)).toBe(letters(readPdf(pdf).pages.join("\n")));
  });
});

describe("a table over several pages", () => {
  it("repeats its header in Word, as printed by a word processor", async () => {
    const rows = { ...longTable.sections[0].blocks[0] } as TableModel;
    const short = { ...rows, rows: rows.rows.slice(0, -1) };
    const report = { ...longTable, sections: [{ ...longTable.sections[0], blocks: [short] }] };
    await writeFile(join(folder, "long.docx"), await reportWord(report, new Map()));
    convertDocument(folder, "long.docx", "pdf");
    const text = runProgram("pdftotext", ["-raw", join(folder, "long.pdf"), "-"]);
    const pages = text.split("\f").slice(0, -1);
    expect(pages.length).toBeGreaterThan(2);
    for (const page of pages) expect(page).toContain("Row heading");
  });
});
