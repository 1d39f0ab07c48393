import { readFileSync, writeFileSync } from "node:fs";
import { dirname } from "node:path";
import { describe, expect, it } from "vitest";
import { defineProtocol, journalStyleOf } from "../../src/protocol/index.js";
import type { FigureSpec } from "../../src/results/index.js";
import { runStudy, studyReport } from "../../src/study/index.js";
import { type DrawnFigure, drawFigure } from "../../src/study/publish/drawnFigure.js";
import { pageOfSummary, summaryPng } from "../../src/study/publish/writeSummary.js";

describe.each([
  ["data/children/protocol.json", "journal"],
  ["data/demo/protocol.json", "public"],
  ["data/demo/protocol.json", "journal"],
  ["data/demo/rule-protocol.json", "public"],
] as const)("the first page of %s for the %s", (file, audience) => {
  it("has no text smaller than 10 pixels in a figure where it is 1200 pixels wide", async () => {
    const written = JSON.parse(readFileSync(file, "utf8"));
    const protocol = defineProtocol({ ...written, audience });
    const report = studyReport(await runStudy(protocol, { folder: dirname(file) }));
    const shown = report.sections[0]!.blocks.filter(
      (block): block is FigureSpec => block.kind === "figure",
    );
    const figures = new Map<string, DrawnFigure>();
    for (const figure of shown) {
      figures.set(figure.name, await drawFigure(figure, journalStyleOf({})));
    }
    const page = await pageOfSummary(report, figures);
    if (process.env.LOOK)
      writeFileSync(
        `/dev/shm/look-${audience}-${file.replaceAll("/", "-")}.png`,
        await summaryPng(page),
      );
    const placed = page.items.filter((item) => item.kind === "figure");
    expect(placed).toHaveLength(shown.length);
    for (const { svg, width } of placed) {
      const own = Number(/viewBox="0 0 ([\d.]+) /.exec(svg)![1]);
      const sizes = [...svg.matchAll(/font-size="([\d.]+)px"/g)].map(([, size]) => Number(size));
      const onPaper = (Math.min(...sizes) * width) / own;
      expect((onPaper * 1200) / page.width).toBeGreaterThanOrEqual(10);
    }
    const smallest = Math.min(
      ...page.items.flatMap((item) => (item.kind === "text" ? [item.size] : [])),
    );
    expect((smallest * 1200) / page.width).toBeGreaterThanOrEqual(14);
  });
});
