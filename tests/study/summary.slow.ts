// The page of the summary, as PDF and as a picture.
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { defineProtocol, journalStyleOf } from "../../src/protocol/index.js";
import { printSigns } from "../../src/rows/index.js";
import { type Report, runStudy, type StudyResult, studyReport } from "../../src/study/index.js";
import { type DrawnFigure, drawFigure } from "../../src/study/publish/drawnFigure.js";
import { pageOfSummary, summaryPdf, summaryPng } from "../../src/study/publish/writeSummary.js";
import { demoPart } from "../builders/demoPart.js";
import { readPdf } from "../builders/readPdf.js";

let folder: string;
let demo: StudyResult;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "meridional-summary-"));
  await demoPart(folder);
  const json = JSON.parse(await readFile("data/demo/protocol.json", "utf8"));
  demo = await runStudy(defineProtocol({ ...json, replicates: 60 }), { folder });
});
afterAll(() => rm(folder, { recursive: true, force: true }));

describe("the summary", () => {
  const drawnOf = async (report: Report) => {
    const drawn = new Map<string, DrawnFigure>();
    for (const block of report.sections[0]!.blocks) {
      if (block.kind === "figure")
        drawn.set(block.name, await drawFigure(block, journalStyleOf({})));
    }
    return drawn;
  };

  it("is one page of what the report's first section says, for the public of coarse counts", async () => {
    const report = studyReport(demo);
    const page = await pageOfSummary(report, await drawnOf(report));
    const { pages, title, alternatives } = readPdf(await summaryPdf(page));
    expect(pages).toHaveLength(1);
    expect(title).toBe(demo.protocol.title);
    const [answer] = report.sections;
    const spaced = (text: string) => printSigns(text).replace(/\s+/g, " ");
    const paragraphs = answer!.blocks.flatMap((block) =>
      block.kind === "paragraph" ? [block.text] : [],
    );
    expect(paragraphs.length).toBeGreaterThan(4);
    for (const text of [...paragraphs, demo.caution, demo.protocol.statement!]) {
      expect(spaced(pages[0]!)).toContain(spaced(text));
    }
    const figures = answer!.blocks.flatMap((block) => (block.kind === "figure" ? [block.alt] : []));
    expect(alternatives.length).toBe(figures.length);
    // the picture: A4 at 200 dots an inch (PNG specification, 11.2.2)
    const png = Buffer.from(await summaryPng(page));
    expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([1654, 2339]);
  });

  it("stays on its page, and keeps figures, where there is much to say", async () => {
    const report = studyReport(demo);
    const [answer, ...others] = report.sections;
    const drawn = await drawnOf(report);
    for (const times of [1, 4, 12, 60]) {
      const blocks = answer!.blocks.flatMap((block, at) =>
        at === 2 ? Array.from({ length: times }, () => block) : [block],
      );
      const page = await pageOfSummary(
        { ...report, sections: [{ ...answer!, blocks }, ...others] },
        drawn,
      );
      // a figure's title stands in its column, right above it
      const isTitle = (at: number) => page.items[at + 1]?.kind === "figure";
      const texts = page.items.flatMap((item, at) =>
        item.kind === "text" && !isTitle(at) ? [item] : [],
      );
      for (const [at, item] of page.items.entries()) {
        const next = page.items[at + 1];
        if (item.kind !== "text" || next?.kind !== "figure") continue;
        expect(item.x).toBe(next.x);
        expect(item.y + (item.lines.length - 1) * item.lineHeight).toBeLessThan(next.y);
      }
      expect(texts.length).toBeGreaterThan(5);
      const ends = texts.map(({ y, lines, lineHeight }) => y + (lines.length - 1) * lineHeight);
      for (const [at, { y }] of texts.slice(1).entries()) expect(y).toBeGreaterThan(ends[at]!);
      expect(ends.at(-1)!).toBeLessThan(page.height - 40);
      const figures = page.items.filter((item) => item.kind === "figure");
      expect(figures.length).toBe(drawn.size);
      for (const { y, height } of figures) {
        expect(height).toBeGreaterThan(60);
        expect(y + height).toBeLessThan(page.height - 40);
      }
    }
  });
});
