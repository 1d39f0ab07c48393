import type { FigureSpec, TableModel } from "../../results/index.js";
import { toMarkdown } from "../../tables/index.js";
import { escapeMarkdown } from "../../text/index.js";
import type { Report, ReportBlock } from "../report/report.js";
import { cleaned } from "./cleaned.js";

/** A report as Markdown; figures are links to files in `figures/`. */
export function reportMarkdown(given: Report): string {
  const report = cleaned(given);
  const parts = [
    `**${escapeMarkdown(report.statement)}**`,
    `# ${escapeMarkdown(report.title)}`,
    `> ${escapeMarkdown(report.caution)}`,
    ...report.sections.flatMap((section) => [
      `## ${escapeMarkdown(section.title)}`,
      ...section.blocks.map(blockMarkdown),
    ]),
  ];
  return `${parts.join("\n\n")}\n`;
}

function blockMarkdown(block: ReportBlock): string {
  switch (block.kind) {
    case "paragraph":
      return block.emphasis === "headline"
        ? `**${escapeMarkdown(block.text)}**`
        : escapeMarkdown(block.text);
    case "list":
      return block.items.map((item) => `- ${escapeMarkdown(item)}`).join("\n");
    case "table":
      return tableMarkdown(block);
    case "figure":
      return figureMarkdown(block);
    case "bench":
      return escapeMarkdown(block.elsewhere);
  }
}

function tableMarkdown(table: TableModel): string {
  return toMarkdown(table).trim();
}

function figureMarkdown(figure: FigureSpec): string {
  return `![${escapeMarkdown(figure.alt)}](figures/${figure.name}.svg)\n\n*${escapeMarkdown(figure.caption)}*`;
}
