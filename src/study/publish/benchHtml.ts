import { shareAtOdds } from "../../accuracy/index.js";
import { chartSvg } from "../../figures/index.js";
import type { JournalStyle } from "../../protocol/index.js";
import type { FigureSpec } from "../../results/index.js";
import { decimalSign, percent } from "../../rows/index.js";
import { escapeHtml, jsonText } from "../../text/index.js";
import type { BenchStop } from "../report/benchStops.js";
import { type BenchData, startBench } from "./benchPage.js";

/** "Move the limit": what the page shows of one condition. */
export interface Bench {
  readonly kind: "bench";
  readonly id: string;
  readonly title: string;
  readonly quantity: string;
  readonly stops: readonly BenchStop[];
  /** Said at a stop that was neither fixed in advance nor corrected by the run. */
  readonly uncorrected: string;
  readonly samplePrevalence: number | null;
  /** At which step the slider works, in words. */
  readonly step: string;
  readonly level: number;
  readonly row: string;
  /** How the estimates are counted, where that differs from the counts; "" where it does not. */
  readonly counting: string;
  /** Stands for the bench where nothing moves: on paper and in Markdown. */
  readonly elsewhere: string;
  /** The ROC curve that the point moves on. */
  readonly figure: FigureSpec;
}

/** The section's HTML and the data its script starts from. */
export async function benchHtml(
  bench: Bench,
  style: JournalStyle,
): Promise<{ html: string; data: BenchData }> {
  const { screen, plane } = await chartSvg(bench.figure, "page", { numbers: style.numbers });
  const { id, stops, uncorrected, samplePrevalence } = bench;
  const data = {
    id,
    stops,
    uncorrected,
    plane,
    samplePrevalence,
    decimal: decimalSign(style.numbers),
  };
  const name = (part: string) => `bench-${id}-${part}`;
  const start = stops.findIndex((stop) => stop.prespecified);
  const cell = (part: string) => `<td id="${name(part)}"></td>`;
  const marker = `<circle id="${name("marker")}" r="4.5" fill="none" stroke="currentColor" stroke-width="2"/>`;
  const curve = screen
    .replace(/ width="[^"]*mm" height="[^"]*mm"/, ' style="width:100%;height:auto"')
    .replace(/<\/svg>\s*$/, `${marker}</svg>`);
  const level = percent(bench.level);
  const html = `<div class="bench" id="${name("bench")}">
<p>Where would the limit have to be? Move it and see. ${escapeHtml(bench.step)} Do not change a referral limit on the strength of this page.</p>
<div class="bench-controls">
<p><label for="${name("limit")}">Referral limit on ${escapeHtml(bench.quantity)}</label>
<input type="range" id="${name("limit")}" min="0" max="${stops.length - 1}" step="1" value="${Math.max(0, start)}">
<output id="${name("limit-shown")}" for="${name("limit")}"></output> <span id="${name("standing")}" class="standing" aria-live="polite"></span></p>
<p><button type="button" id="${name("back")}"${start < 0 ? " hidden" : ""}>Back to the limit fixed in advance</button>
<button type="button" id="${name("chosen")}"${stops.some(({ corrected }) => corrected !== null) ? "" : " hidden"}>To a limit that the run chose</button></p>
<p id="${name("corrected")}" class="corrected" aria-live="polite"></p>
<p><label for="${name("prevalence")}">Prevalence in another population, %</label>
<input type="text" inputmode="decimal" size="6" id="${name("prevalence")}" aria-describedby="${name("assumption")}">
<span id="${name("assumption")}" class="standing" aria-live="polite"></span></p>
</div>
<div class="bench-figures" id="${name("figures")}">
<div class="bench-curve">${curve}</div>
<div class="bench-tables">
<table><caption>Counts (${escapeHtml(bench.row)})</caption>
<thead><tr><th scope="col">Reading</th><th scope="col">With</th><th scope="col">Without</th></tr></thead>
<tbody><tr><th scope="row">Referred</th>${cell("truePositive")}${cell("falsePositive")}</tr>
<tr><th scope="row">Passed</th>${cell("falseNegative")}${cell("trueNegative")}</tr></tbody></table>
<table><caption>Estimates${escapeHtml(bench.counting)} (${level} intervals)</caption>
<tbody><tr><th scope="row">Sensitivity</th>${cell("sensitivity")}</tr>
<tr><th scope="row">Specificity</th>${cell("specificity")}</tr>
<tr><th scope="row">Positive predictive value</th>${cell("positive")}</tr>
<tr><th scope="row">Negative predictive value</th>${cell("negative")}</tr></tbody></table>
</div>
</div>
</div>`;
  return { html, data };
}

/** The page's script: the text of two functions of the library as they run here, called for each bench. */
export function benchScript(benches: readonly BenchData[]): string {
  const data = jsonText(rounded(benches));
  return `"use strict";\nconst benches = ${data};\nfor (const data of benches) (${startBench})(data, ${shareAtOdds});\n`;
}

/** Twelve digits: the last ones of a number differ between machines, and a page shows three. */
function rounded<Value>(value: Value): Value {
  return JSON.parse(
    JSON.stringify(value, (_, item) =>
      typeof item === "number" && !Number.isInteger(item) ? Number(item.toPrecision(12)) : item,
    ),
  );
}
