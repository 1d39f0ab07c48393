import { chartSvg } from "../../figures/index.js";
import type { JournalStyle } from "../../protocol/index.js";
import type { FigureSpec } from "../../results/index.js";
import { decimalSign, percent } from "../../rows/index.js";
import { escapeHtml } from "../../text/index.js";
import type { BenchStop } from "../report/benchStops.js";
import { type BenchData, startBench } from "./benchPage.js";
import {
  benchFields,
  benchNames,
  benchTools,
  rounded12,
  startTexts,
  valuesTable,
} from "./benchParts.js";
import { readingsSvg, sliderScale } from "./benchReadings.js";

/** "Move the limit": what the page shows of one condition. */
export interface Bench {
  readonly kind: "bench";
  readonly id: string;
  readonly title: string;
  readonly quantity: string;
  readonly relation: "<=" | ">=";
  /** As the protocol has it, which may be strict. */
  readonly fixedRelation: string;
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

/** The section's HTML, filled for the limit fixed in advance, and the data its script starts from. */
export async function benchHtml(
  bench: Bench,
  style: JournalStyle,
): Promise<{ html: string; data: BenchData }> {
  const { screen, plane } = await chartSvg(bench.figure, "page", { numbers: style.numbers });
  const { id, stops, uncorrected, samplePrevalence, quantity, relation, fixedRelation } = bench;
  const scale = sliderScale(stops.map(({ limit }) => limit));
  const data: BenchData = {
    kind: "bench",
    id,
    stops,
    quantity,
    relation,
    fixedRelation,
    uncorrected,
    plane,
    axis: { from: scale.least, to: scale.most, width: 400 },
    samplePrevalence,
    decimal: decimalSign(style.numbers),
  };
  const texts = startTexts((page) => startBench(rounded12(data), benchTools, page));
  return { html: sectionHtml(bench, { screen, scale, data, texts }), data };
}

function sectionHtml(
  bench: Bench,
  {
    screen,
    scale,
    data,
    texts,
  }: {
    readonly screen: string;
    readonly scale: ReturnType<typeof sliderScale>;
    readonly data: BenchData;
    readonly texts: ReadonlyMap<string, string>;
  },
): string {
  const { id, stops } = bench;
  const start = stops.find(({ prespecified }) => prespecified) ?? stops[0]!;
  const names = benchNames(id, texts);
  const { name, said } = names;
  const marks = (["other-", ""] as const)
    .map((side) => {
      const look = `fill="none" stroke="currentColor" stroke-width="${side === "" ? 2 : 1}"${side === "" ? "" : ' stroke-dasharray="2 1.5"'}`;
      const line = (part: string) => `<line id="${name(side + part)}" ${look}/>`;
      return `${line("across")}${line("up")}<circle id="${name(`${side}marker`)}" r="4.5" ${look}/>`;
    })
    .join("");
  const curve = screen
    .replace(
      / width="[^"]*mm" height="[^"]*mm"/,
      ` id="${name("curve")}" style="width:100%;height:auto"`,
    )
    .replace(/<\/svg>\s*$/, `${marks}</svg>`);
  const slider = (side: "" | "other-", words: string) =>
    `<p><label for="${name(`${side}limit`)}">${words} on ${escapeHtml(bench.quantity)}, dioptres</label>
<input type="range" id="${name(`${side}limit`)}" min="${scale.least}" max="${scale.most}" step="${scale.step}" value="${start.limit}">
<output id="${name(`${side}limit-shown`)}" for="${name(`${side}limit`)}">${said(`${side}limit-shown`)}</output>`;
  return `<div class="bench" id="${name("bench")}">
<p>Where would the limit have to be? Move it and see. ${escapeHtml(bench.step)} Do not change a referral limit on the strength of this page.</p>
<noscript><p>Where no script may run nothing moves: below stands the limit fixed in advance.</p></noscript>
<div class="bench-controls" id="${name("controls")}" hidden>
${slider("", "Referral limit")} <span id="${name("standing")}" class="standing" aria-live="polite"></span></p>
<p><button type="button" id="${name("back")}"${start.prespecified ? "" : " hidden"}>Back to the limit fixed in advance</button>
<button type="button" id="${name("chosen")}"${stops.some(({ corrected }) => corrected !== null) ? "" : " hidden"}>To a limit that the run chose</button></p>
<p id="${name("corrected")}" class="corrected" aria-live="polite"></p>
${slider("other-", "Another limit beside it")}</p>
${benchFields(names, ["prevalence", "capacity", "weight"])}
<p class="takes">Take along: <a id="${name("csv")}" download="limit-${id}.csv">numbers as CSV</a>
<a id="${name("snippet")}" download="limit-${id}.json">limit as part of a protocol</a>
<button type="button" id="${name("picture")}">curve as PNG</button></p>
</div>
<div class="bench-figures" id="${name("figures")}">
<div class="bench-curve">${curve}
${readingsSvg(data, name)}</div>
<div class="bench-tables">
${valuesTable(names, {
  caption: "What the limit does",
  headings: ["Limit", "Beside it"],
  row: bench.row,
  level: percent(bench.level),
  counting: bench.counting,
  thousand: "Of 1000 screened at that prevalence",
})}
<p class="standing">Referred of 1000 is the sum of its two parts, without an interval of its own. Weights and exams are your own numbers, not a result.</p>
</div>
</div>
</div>`;
}
