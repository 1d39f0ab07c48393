import type { JournalStyle } from "../../protocol/index.js";
import type { FigureSpec, TableModel } from "../../results/index.js";
import { printSigns } from "../../rows/index.js";
import { toMarkdown } from "../../tables/index.js";
import { escapeMarkdown } from "../../text/index.js";
import type { Report, ReportBlock } from "../report/report.js";
import { cleaned } from "./cleaned.js";
import { numbered } from "./numbered.js";

/** A report as Markdown; figures are links to files in `figures/`. */
export function reportMarkdown(given: Report): string {
  const report = numbered(cleaned(given));
  const parts = [
    `**${printed(report.statement)}**`,
    `# ${printed(report.title)}`,
    `> ${printed(report.caution)}`,
    ...report.sections.flatMap((section) => [
      `## ${printed(section.title)}`,
      ...section.blocks.map((block) => blockMarkdown(block, report.style)),
    ]),
  ];
  return `${parts.join("\n\n")}\n`;
}

/** Text with the signs of print. */
const printed = (text: string): string => escapeMarkdown(printSigns(text));

function blockMarkdown(block: ReportBlock, style: JournalStyle): string {
  switch (block.kind) {
    case "paragraph":
      return block.emphasis === "headline" ? `**${printed(block.text)}**` : printed(block.text);
    case "list":
      return block.items.map((item) => `- ${printed(item)}`).join("\n");
    case "table":
      return tableMarkdown(block, style);
    case "figure":
      return figureMarkdown(block);
    case "bench":
    case "rule-bench":
      return printed(block.elsewhere);
  }
}

function tableMarkdown(table: TableModel, { numbers }: JournalStyle): string {
  // in a table "<" is written "&lt;" by now
  return printSigns(toMarkdown(table, { numbers }).trim()).replaceAll("&lt;=", "≤");
}

function figureMarkdown(figure: FigureSpec): string {
  return `![${printed(figure.alt)}](figures/${figure.name}.svg)\n\n*${printed(figure.caption)}*`;
}
