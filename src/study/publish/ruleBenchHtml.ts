import { decimalSign, percent } from "../../rows/index.js";
import type { JournalStyle } from "../../protocol/index.js";
import { escapeHtml } from "../../text/index.js";
import {
  type BenchField,
  benchFields,
  benchNames,
  benchTools,
  rounded12,
  startTexts,
  valuesTable,
} from "./benchParts.js";
import { type RuleBenchData, startRuleBench } from "./ruleBenchPage.js";

/** "Move the limits" of a rule: what the page shows of one condition. */
export interface RuleBench {
  readonly kind: "rule-bench";
  readonly id: string;
  readonly title: string;
  readonly data: Omit<RuleBenchData, "decimal" | "shown" | "asked">;
  /** What each band and each of its limits is called. */
  readonly bands: readonly {
    readonly words: string;
    readonly limits: readonly string[];
  }[];
  readonly step: string;
  readonly level: number;
  readonly row: string;
  /** How the rates are counted. */
  readonly counting: string;
  readonly note: string;
  /** Stands for the bench where nothing moves: on paper and in Markdown. */
  readonly elsewhere: string;
}

/** Of counts of the examined alone no outcome of all screened follows but the share referred. */
const ofExamined = ["truePositive", "falsePositive", "falseNegative", "trueNegative"].concat([
  "sensitivity",
  "specificity",
  "referred",
  "beyond",
]);
const ofAll = [...ofExamined, "positive", "negative", "rightly", "wrongly", "missed", "burden"];

/** The section's HTML, filled for the rule fixed in advance, and the data its script starts from. */
export function ruleBenchHtml(
  bench: RuleBench,
  style: JournalStyle,
): { html: string; data: RuleBenchData } {
  const { partly } = bench.data;
  const asked: readonly BenchField[] = partly ? ["capacity"] : ["prevalence", "capacity", "weight"];
  const data: RuleBenchData = {
    ...bench.data,
    shown: partly ? ofExamined : ofAll,
    asked,
    decimal: decimalSign(style.numbers),
  };
  const texts = startTexts((page) => startRuleBench(rounded12(data), benchTools, page));
  const names = benchNames(bench.id, texts);
  const { name, said } = names;
  const bands = bench.bands.map(({ words, limits }, band) => {
    const at = (part: string) => `band-${band}-${part}`;
    const moves =
      limits.length === 0
        ? "<p>None of its limits moves here.</p>"
        : `<p><label for="${name(at("which"))}">The limit that moves</label>
<select id="${name(at("which"))}">${limits.map((limit, which) => `<option value="${which}">${escapeHtml(limit)}</option>`).join("")}</select></p>
<p><label for="${name(at("limit"))}">Where it stands</label>
<input type="range" id="${name(at("limit"))}">
<output id="${name(at("shown"))}" for="${name(at("limit"))}">${said(at("shown"))}</output>
<span id="${name(at("said"))}" class="standing">${said(at("said"))}</span></p>`;
    return `<fieldset><legend>${escapeHtml(words)}</legend>
${moves}</fieldset>`;
  });
  const html = `<div class="bench" id="${name("bench")}">
<p>Where would the limits have to be? Each age band has its own: move them and see what the whole rule does. ${escapeHtml(bench.step)} Do not change a referral limit on the strength of this page.</p>
<noscript><p>Where no script may run nothing moves: below stands the rule fixed in advance.</p></noscript>
<div class="bench-controls" id="${name("controls")}" hidden>
${bands.join("\n")}
<p><span id="${name("standing")}" class="standing" aria-live="polite"></span>
<button type="button" id="${name("back")}">Back to the rule fixed in advance</button></p>
${benchFields(names, asked)}
<p class="takes">Take along: <a id="${name("csv")}" download="rule-${bench.id}.csv">numbers as CSV</a>
<a id="${name("snippet")}" download="rule-${bench.id}.json">rule as part of a protocol</a></p>
</div>
<div id="${name("figures")}">
<div class="bench-tables">
${valuesTable(names, {
  caption: "What the whole rule does",
  headings: ["As moved", "As fixed in advance"],
  row: bench.row,
  level: percent(bench.level),
  counting: bench.counting,
  thousand: partly ? "Of 1000 screened, examined or not" : "Of 1000 screened at that prevalence",
  shown: data.shown,
})}
<p class="standing">${escapeHtml(bench.note)}</p>
</div>
</div>
</div>`;
  return { html, data };
}
