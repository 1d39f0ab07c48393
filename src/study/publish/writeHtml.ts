import { sha256Base64 } from "../../platform/index.js";
import type { FigureSpec } from "../../results/index.js";
import { type NumberStyle, printSigns } from "../../rows/index.js";
import { toHtml } from "../../tables/index.js";
import { escapeHtml } from "../../text/index.js";
import type { Report, ReportBlock } from "../report/report.js";
import { type Bench, benchHtml } from "./benchHtml.js";
import { benchScript } from "./benchScript.js";
import type { AnyBenchData } from "./ruleBenchPage.js";
import { cleaned } from "./cleaned.js";
import type { DrawnFigure } from "./drawnFigure.js";
import { numbered } from "./numbered.js";
import { reportStyle } from "./reportStyle.js";
import { type RuleBench, ruleBenchHtml } from "./ruleBenchHtml.js";

/**
 * A report as one HTML page that needs no network: figures are embedded, and a content security
 * policy in the page forbids every connection.
 *
 * @param figures the drawn figures, by name
 */
export async function reportHtml(
  given: Report,
  figures: ReadonlyMap<string, Pick<DrawnFigure, "screen" | "widthPoints">>,
): Promise<string> {
  const report = numbered(cleaned(given));
  const benches = await drawnBenches(report);
  const script =
    benches.size === 0 ? "" : benchScript([...benches.values()].map(({ data }) => data));
  const links = report.sections
    .map((section) => `<a href="#${section.id}">${escapeHtml(section.title)}</a>`)
    .join("\n");
  const sections = report.sections
    .map((section) => {
      const blocks = section.blocks
        .map((block) => blockHtml(block, figures, { benches, numbers: report.style.numbers }))
        .join("\n");
      return `<section id="${section.id}">\n<h2>${escapeHtml(section.title)}</h2>\n${blocks}\n</section>`;
    })
    .join("\n");
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy(script)}">
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
</main>${script === "" ? "" : `\n<script>${script}</script>`}
</body>
</html>
`;
}

type Drawn = ReadonlyMap<string, { readonly html: string; readonly data: AnyBenchData }>;

async function drawnBenches(report: Report): Promise<Drawn> {
  const blocks = report.sections.flatMap((section) => section.blocks);
  const benches = blocks.filter(
    (block): block is Bench | RuleBench => block.kind === "bench" || block.kind === "rule-bench",
  );
  const drawn = await Promise.all(
    benches.map((bench) =>
      bench.kind === "bench" ? benchHtml(bench, report.style) : ruleBenchHtml(bench, report.style),
    ),
  );
  return new Map(drawn.map((item) => [item.data.id, item]));
}

/** Nothing may be fetched; the one script is allowed by its hash. */
function policy(script: string): string {
  const hash = sha256Base64(script);
  const scripts = script === "" ? "" : `script-src 'sha256-${hash}'; `;
  return `default-src 'none'; ${scripts}style-src 'unsafe-inline'; img-src data:; font-src data:; base-uri 'none'; form-action 'none'`;
}

function blockHtml(
  block: ReportBlock,
  figures: Parameters<typeof reportHtml>[1],
  { benches, numbers }: { readonly benches: Drawn; readonly numbers: NumberStyle },
): string {
  switch (block.kind) {
    case "paragraph": {
      const style = block.emphasis === undefined ? "" : ` class="${block.emphasis}"`;
      return `<p${style}>${printed(block.text)}</p>`;
    }
    case "list":
      return `<ul>\n${block.items.map((item) => `<li>${printed(item)}</li>`).join("\n")}\n</ul>`;
    case "table":
      return `<div class="scroll" tabindex="0" role="region" aria-label="${escapeHtml(block.title)}">${toHtml(block, { numbers })}</div>`;
    case "figure":
      return figureHtml(block, figures.get(block.name));
    case "bench":
    case "rule-bench":
      return benches.get(block.id)?.html ?? "";
  }
}

/** A number stays on the line of its unit, an interval on one line. */
function printed(text: string): string {
  return escapeHtml(printSigns(text)).replace(
    /\([−\d.,·\u2009]+ to [−\d.,·\u2009]+\)|[\d.,·−+]+ (?:%|D(?![\w-]))/g,
    '<span class="together">$&</span>',
  );
}

function figureHtml(
  figure: FigureSpec,
  drawn?: Pick<DrawnFigure, "screen" | "widthPoints">,
): string {
  const { screen: svg = "", widthPoints = 0 } = drawn ?? {};
  // in single quotes the drawing's own double quotes need no escape
  const source = `data:image/svg+xml,${svg.replace(/['#%&<>\n]/g, (sign) => (sign === "'" ? "%27" : encodeURIComponent(sign)))}`;
  return `<figure id="figure-${figure.name}" style="max-width:${((1.6 * widthPoints * 25.4) / 72).toFixed(1)}mm">
<img alt="${escapeHtml(figure.alt)}" src='${source}'>
<figcaption>${escapeHtml(printSigns(figure.caption))}</figcaption>
</figure>`;
}
