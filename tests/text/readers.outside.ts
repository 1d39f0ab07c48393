import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { reportHtml } from "../../src/study/publish/writeHtml.js";
import { reportPdf } from "../../src/study/publish/writePdf.js";
import { reportWord } from "../../src/study/publish/writeWord.js";
import { seen } from "../builders/documents.js";
import { convertDocument, pathOf, runProgram } from "../builders/program.js";
import { hostile, reportOf } from "./hostile.js";

// The hostile corpus, opened by programs that are not ours: Debian's libreoffice, poppler-utils and chromium. What
// stands between "begin" and "end" may look as it likes; both have to be there.
const corpus = hostile.map(([, text]) => `begin ${text} end`).join("\n");
const ends = (text: string) => [text.match(/begin/g)?.length, text.match(/end/g)?.length];

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "meridional-hostile-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

describe("hostile texts are opened by", () => {
  it("a word processor", async () => {
    await writeFile(join(folder, "a.docx"), await reportWord(reportOf(corpus), new Map()));
    convertDocument(folder, "a.docx", "txt:Text (encoded):UTF8");
    const [begun, ended] = ends(seen(await readFile(join(folder, "a.txt"), "utf8")));
    expect(begun).toBe(ended);
    expect(begun! % hostile.length).toBe(0);
    expect(begun!).toBeGreaterThanOrEqual(8 * hostile.length);
  });

  it("a reader of PDF", async () => {
    const bytes = await reportPdf(reportOf(corpus), new Map());
    const text = runProgram("pdftotext", ["-raw", "-", "-"], { input: bytes });
    expect(ends(text)[0]).toBeGreaterThanOrEqual(8 * hostile.length);
  });

  it("a browser, which runs nothing of them", async () => {
    const browser = await chromium.launch({
      executablePath: pathOf("chromium"),
      args: [
        "--no-sandbox",
        "--disable-gpu",
        "--disable-background-networking",
        "--disable-component-update",
      ],
    });
    try {
      const page = await browser.newPage();
      const said: string[] = [];
      page.on("dialog", (dialog) => {
        said.push(dialog.message());
        void dialog.dismiss();
      });
      page.on("request", (request) => said.push(request.url()));
      await page.setContent(await reportHtml(reportOf(corpus), new Map()));
      expect(ends((await page.locator("body").textContent()) ?? "")[0]).toBeGreaterThanOrEqual(
        8 * hostile.length,
      );
      expect(said).toEqual([]);
    } finally {
      await browser.close();
    }
  });
});
