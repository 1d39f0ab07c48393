import type { TableCell, TableModel } from "../../results/index.js";
import type { Report, ReportBlock } from "../report/report.js";

/** The numbers of a report's tables and figures, in the order in which they stand. */
export interface Numbers {
  /** "Table 3", "Figure 2"; "" of other blocks. */
  readonly of: (block: ReportBlock) => string;
}

/** Numbers tables and figures apart from each other, from 1. */
export function numbersOf({ sections }: Pick<Report, "sections">): Numbers {
  const numbers = new Map<ReportBlock, string>();
  const seen = { table: 0, figure: 0 };
  for (const block of sections.flatMap(({ blocks }) => blocks)) {
    if (block.kind !== "table" && block.kind !== "figure") continue;
    const word = block.kind === "table" ? "Table" : "Figure";
    numbers.set(block, `${word} ${++seen[block.kind]}`);
  }
  return { of: (block) => numbers.get(block) ?? "" };
}

/** A report whose words refer to tables and figures by number: `table "Participants"` becomes "Table 3". */
export function referredByNumber(report: Report): Report {
  const numbers = numbersOf(report);
  const byTitle = new Map<string, string>();
  for (const block of report.sections.flatMap(({ blocks }) => blocks)) {
    if (block.kind !== "table" && block.kind !== "figure") continue;
    const key = `${block.kind} "${block.title}"`;
    // two of one title cannot be told apart by it, and are named by it still
    byTitle.set(key, byTitle.has(key) ? "" : numbers.of(block));
  }
  const worded = (text: string) =>
    text.replace(/(?:table|figure) "[^"]+"/g, (named) => byTitle.get(named) || named);
  const cell = (one: TableCell) => (typeof one === "string" ? worded(one) : one);
  const table = (one: TableModel): TableModel => ({
    ...one,
    rows: one.rows.map((row) => ({ ...row, cells: row.cells.map(cell) })),
  });
  const blockOf = (block: ReportBlock): ReportBlock => {
    if (block.kind === "table") return table(block);
    if (block.kind === "paragraph") return { ...block, text: worded(block.text) };
    return block.kind === "list" ? { ...block, items: block.items.map(worded) } : block;
  };
  return {
    ...report,
    sections: report.sections.map((section) => ({
      ...section,
      blocks: section.blocks.map(blockOf),
    })),
  };
}

/** A report with the numbers before the titles of tables and the captions of figures. */
export function numbered(given: Report): Report {
  const report = referredByNumber(given);
  const numbers = numbersOf(report);
  const blockOf = (block: ReportBlock): ReportBlock => {
    if (block.kind === "table") return { ...block, title: `${numbers.of(block)}. ${block.title}` };
    return block.kind === "figure"
      ? { ...block, caption: `${numbers.of(block)}. ${block.caption}` }
      : block;
  };
  return {
    ...report,
    sections: report.sections.map((section) => ({
      ...section,
      blocks: section.blocks.map(blockOf),
    })),
  };
}
