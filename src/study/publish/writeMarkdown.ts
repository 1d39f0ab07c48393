import type { FigureSpec, TableModel } from "../../results/index.js";
import { toMarkdown } from "../../tables/index.js";
import type { Report, ReportBlock } from "../report/report.js";

/** A report as Markdown; figures are links to files in `figures/`. */
export function reportMarkdown(report: Report): string {
  const parts = [
    `**${report.statement}**`,
    `# ${escapeText(report.title)}`,
    `> ${report.caution}`,
    ...report.sections.flatMap((section) => [
      `## ${escapeText(section.title)}`,
      ...section.blocks.map(blockMarkdown),
    ]),
  ];
  return `${parts.join("\n\n")}\n`;
}

function blockMarkdown(block: ReportBlock): string {
  switch (block.kind) {
    case "paragraph":
      return block.emphasis === "headline"
        ? `**${escapeText(block.text)}**`
        : escapeText(block.text);
    case "list":
      return block.items.map((item) => `- ${escapeText(item)}`).join("\n");
    case "table":
      return tableMarkdown(block);
    case "figure":
      return figureMarkdown(block);
    case "bench":
      return escapeText(block.elsewhere);
  }
}

function tableMarkdown(table: TableModel): string {
  return toMarkdown(table).trim();
}

function figureMarkdown(figure: FigureSpec): string {
  return `![${escapeText(figure.alt)}](figures/${figure.name}.svg)\n\n*${escapeText(figure.caption)}*`;
}

function escapeText(text: string): string {
  return text.replace(/([\\`*_[\]<>|])/g, "\\$1");
}
