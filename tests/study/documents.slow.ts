import { describe, expect, it } from "vitest";
import { reportPdf } from "../../src/study/publish/writePdf.js";
import { longTable } from "../builders/documents.js";
import { documentTests } from "../builders/documentTests.js";
import { readPdf } from "../builders/readPdf.js";

// The demo study, whose report is longer, is read in documents.long.ts.
documentTests("children");

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
});
