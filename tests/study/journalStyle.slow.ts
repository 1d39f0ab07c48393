// One key of a protocol, every form of its report: what a style changes is the signs within numbers, and sizes.
import { readFile } from "node:fs/promises";
import Zip from "jszip";
import { beforeAll, expect, it } from "vitest";
import { defineProtocol } from "../../src/protocol/index.js";
import { drawFigure } from "../../src/study/publish/drawnFigure.js";
import { reportHtml } from "../../src/study/publish/writeHtml.js";
import { reportWord } from "../../src/study/publish/writeWord.js";
import { pageOfSummary } from "../../src/study/publish/writeSummary.js";
import { type Report, runStudy, type StudyResult, studyReport } from "../../src/study/index.js";
import { blocksOf } from "../builders/documents.js";

const json = JSON.parse(await readFile("data/children/protocol.json", "utf8"));
const comma = { decimal: "comma", columnMm: [90, 190] } as const;
const undone = (text: string) =>
  text.replace(/(?<=\d),(?=\d)/g, ".").replace(/(?<=\d)\u2009(?=\d)/g, ",");

let result: StudyResult;
let plain: Report;
let styled: Report;
beforeAll(async () => {
  const protocol = defineProtocol({ ...json, replicates: 60 });
  result = await runStudy(protocol, { folder: "data/children" });
  plain = studyReport(result);
  styled = studyReport({
    ...result,
    protocol: { ...protocol, journalStyle: { ...comma, columnMm: [90, 190] } },
  });
});

const figuresOf = async (report: Report) =>
  new Map(
    await Promise.all(
      blocksOf(report, "figure").map(
        async (figure) => [figure.name, await drawFigure(figure, report.style)] as const,
      ),
    ),
  );

it("a decimal comma stands in HTML, Word, the first page and the figures, at the journal's widths", async () => {
  const drawn = await figuresOf(styled);
  const own = await figuresOf(plain);
  for (const [name, { svg, widthPoints }] of drawn) {
    const texts = [...svg.matchAll(/<text[^>]*>([^<]+)</g)].map(([, text]) => text!);
    expect(
      texts.filter((text) => /\d\.\d/.test(text)),
      name,
    ).toEqual([]);
    const before = [...own.get(name)!.svg.matchAll(/<text[^>]*>([^<]+)</g)].map(([, text]) => text);
    expect(texts.map(undone), name).toEqual(before);
    expect(widthPoints).toBeGreaterThan(own.get(name)!.widthPoints);
  }
  const roc = drawn.get("roc-myopia-3")!;
  expect((roc.widthPoints / 72) * 25.4).toBeCloseTo(90, 0);
  const html = await reportHtml(styled, drawn);
  expect(
    html
      .replace(/<(?:script|style)[\s\S]*?<\/(?:script|style)>|<[^>]*>/g, "")
      .match(/(?<![\d.])\d+\.\d+(?![.\d])/g),
  ).toBeNull();
  const zip = await Zip.loadAsync(await reportWord(styled, drawn));
  const xml = await zip.file("word/document.xml")!.async("string");
  expect(xml).toContain("95,3\u00a0% (91,6\u00a0to\u00a097,4)");
  expect(xml.replace(/<[^>]*>/g, " ").match(/(?<![\d.])\d+\.\d+(?![.\d])/g)).toBeNull();
  const page = await pageOfSummary(styled, drawn);
  const lines = page.items.flatMap((item) => (item.kind === "text" ? item.lines : []));
  expect(lines.join(" ")).toContain("95,3");
  expect(lines.join(" ")).not.toMatch(/\d\.\d/);
});
