import type { FigureSpec } from "../results/index.js";
import { toHtml } from "../tables/index.js";
import type { Report, ReportBlock } from "./report.js";
import { reportStyle } from "./reportStyle.js";

const policy =
  "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'";

/**
 * A report as one HTML page that needs no network: figures are embedded, and a content security
 * policy in the page forbids every connection.
 *
 * @param svgs the rendered figures, by name
 */
export function reportHtml(report: Report, svgs: ReadonlyMap<string, string>): string {
  const links = report.sections
    .map((section) => `<a href="#${section.id}">${escapeHtml(section.title)}</a>`)
    .join("\n");
  const sections = report.sections
    .map((section) => {
      const blocks = section.blocks.map((block) => blockHtml(block, svgs)).join("\n");
      return `<section id="${section.id}">\n<h2>${escapeHtml(section.title)}</h2>\n${blocks}\n</section>`;
    })
    .join("\n");
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escapeHtml(report.title)}</title>
<style>
${reportStyle}
</style>
</head>
<body>
<main>
<p class="statement">${escapeHtml(report.statement)}</p>
<h1>${escapeHtml(report.title)}</h1>
<p class="caution" role="note">${escapeHtml(report.caution)}</p>
<nav aria-label="Sections">
${links}
</nav>
${sections}
</main>
</body>
</html>
`;
}

function blockHtml(block: ReportBlock, svgs: ReadonlyMap<string, string>): string {
  switch (block.kind) {
    case "paragraph": {
      const style = block.emphasis === undefined ? "" : ` class="${block.emphasis}"`;
      return `<p${style}>${escapeHtml(block.text)}</p>`;
    }
    case "list":
      return `<ul>\n${block.items.map((item) => `<li>${escapeHtml(item)}</li>`).join("\n")}\n</ul>`;
    case "table":
      return `<div class="scroll" tabindex="0" role="region" aria-label="${escapeHtml(block.title)}">${toHtml(block)}</div>`;
    case "figure":
      return figureHtml(block, svgs.get(block.name) ?? "");
  }
}

function figureHtml(figure: FigureSpec, svg: string): string {
  const source = `data:image/svg+xml;base64,${Buffer.from(svg, "utf8").toString("base64")}`;
  return `<figure id="figure-${figure.name}" style="max-width:${figure.widthMm * 1.6}mm">
<img alt="${escapeHtml(figure.alt)}" src="${source}">
<figcaption>${escapeHtml(figure.caption)}</figcaption>
</figure>`;
}

function escapeHtml(text: string): string {
  return text
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;")
    .replaceAll('"', "&quot;");
}
