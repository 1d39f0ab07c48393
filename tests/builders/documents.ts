import { readFile } from "node:fs/promises";
import { defineProtocol, journalStyleOf } from "../../src/protocol/index.js";
import type { FigureSpec, TableModel } from "../../src/results/index.js";
import { runStudy, studyReport } from "../../src/study/index.js";
import { type DrawnFigure, drawFigure } from "../../src/study/publish/drawnFigure.js";
import { reportPdf } from "../../src/study/publish/writePdf.js";
import { reportWord } from "../../src/study/publish/writeWord.js";
import type { Report } from "../../src/study/report/report.js";

/** A report with its figures drawn, as Word and as PDF. */
export interface Documents {
  readonly report: Report;
  readonly figures: ReadonlyMap<string, DrawnFigure>;
  readonly word: Uint8Array;
  readonly pdf: Uint8Array;
}

/** The documents of a study in data/, with few replicates: nothing in them depends on how many. */
export async function documentsOf(name: "children" | "demo", changes: object = {}) {
  const json = JSON.parse(await readFile(`data/${name}/protocol.json`, "utf8"));
  const result = await runStudy(defineProtocol({ ...json, replicates: 60, ...changes }), {
    folder: `data/${name}`,
  });
  const report = studyReport(result);
  const figures = new Map<string, DrawnFigure>();
  for (const figure of blocksOf(report, "figure")) {
    figures.set(figure.name, await drawFigure(figure, report.style));
  }
  const [word, pdf] = [await reportWord(report, figures), await reportPdf(report, figures)];
  return { report, figures, word, pdf } satisfies Documents;
}

/** The tables or the figures of a report, in its order. */
export function blocksOf(report: Report, kind: "figure"): FigureSpec[];
export function blocksOf(report: Report, kind: "table"): TableModel[];
export function blocksOf(report: Report, kind: "figure" | "table") {
  return report.sections.flatMap((section) =>
    section.blocks.filter((block) => block.kind === kind),
  );
}

/** Every text of a block that a document has to hold as it is. */
export function textsOf(block: Report["sections"][number]["blocks"][number]): readonly string[] {
  switch (block.kind) {
    case "paragraph":
      return [block.text];
    case "list":
      return block.items;
    case "table":
      return [
        block.title,
        ...block.columns.map(({ label }) => label),
        ...block.rows
          .filter(({ shareOfAbove }) => shareOfAbove === undefined)
          .flatMap(({ cells }) => cells.filter((cell) => typeof cell === "string")),
        ...block.notes,
      ];
    case "figure":
      return [block.caption];
    case "bench":
    case "rule-bench":
      return [block.elsewhere];
  }
}

/** What a reader sees of a text: minus signs for hyphens before numbers, ≤ and ≥ for <= and >=. */
export const seen = (text: string) =>
  withoutSpace(
    text
      .replace(/(^|[( ])-(?=\d)/g, "$1−")
      .replaceAll("<=", "≤")
      .replaceAll(">=", "≥"),
  );
export const withoutSpace = (text: string) => text.replace(/\s+/g, "");

/** A report of one table that goes over several pages, with a cell longer than a page. */
export const longTable: Report = {
  kind: "report",
  style: journalStyleOf({}),
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
