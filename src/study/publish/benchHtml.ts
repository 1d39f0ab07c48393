import { shareAtOdds } from "../../accuracy/index.js";
import { chartSvg } from "../../figures/index.js";
import type { JournalStyle } from "../../protocol/index.js";
import type { FigureSpec } from "../../results/index.js";
import { decimalSign, percent } from "../../rows/index.js";
import { escapeHtml, jsonText } from "../../text/index.js";
import type { BenchStop } from "../report/benchStops.js";
import { type BenchData, startBench } from "./benchPage.js";
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
  const rounded = rounded12(data);
  const texts = startTexts(rounded);
  return { html: sectionHtml(bench, { screen, scale, data, texts }), data };
}

const rowsOf = (row: string, level: string, counting: string) =>
  [
    [
      `Counts (${row})`,
      [
        ["truePositive", "Referred, with the condition"],
        ["falsePositive", "Referred, without it"],
        ["falseNegative", "Passed, with the condition (missed)"],
        ["trueNegative", "Passed, without it"],
      ],
    ],
    [
      `Estimates${counting} (${level} intervals)`,
      [
        ["sensitivity", "Sensitivity"],
        ["specificity", "Specificity"],
        ["positive", "Positive predictive value"],
        ["negative", "Negative predictive value"],
      ],
    ],
    [
      `Of 1000 screened at that prevalence (${level} intervals)`,
      [
        ["referred", "Referred"],
        ["rightly", "Referred, with the condition"],
        ["wrongly", "Referred, without it"],
        ["missed", "Passed, with the condition (missed)"],
        ["beyond", "Referred beyond the exams there are"],
        ["burden", "Needless referrals, and missed by your weight"],
      ],
    ],
  ] as const;

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
  const name = (part: string) => `bench-${id}-${part}`;
  const said = (part: string) => escapeHtml(texts.get(name(part)) ?? "");
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
  const field = (part: string, words: string) =>
    `<p><label for="${name(part)}">${words}</label>
<input type="text" inputmode="decimal" size="6" id="${name(part)}"`;
  const body = rowsOf(bench.row, percent(bench.level), bench.counting)
    .map(
      ([title, rows]) =>
        `<tbody><tr><th scope="rowgroup" colspan="3">${escapeHtml(title)}</th></tr>
${rows
  .map(
    ([part, label]) =>
      `<tr><th scope="row">${label}</th><td id="${name(part)}">${said(part)}</td><td id="${name(`other-${part}`)}">${said(`other-${part}`)}</td></tr>`,
  )
  .join("\n")}</tbody>`,
    )
    .join("\n");
  return `<div class="bench" id="${name("bench")}">
<p>Where would the limit have to be? Move it and see. ${escapeHtml(bench.step)} Do not change a referral limit on the strength of this page.</p>
<noscript><p>Where no script may run nothing moves: below stands the limit fixed in advance.</p></noscript>
<div class="bench-controls" id="${name("controls")}" hidden>
${slider("", "Referral limit")} <span id="${name("standing")}" class="standing" aria-live="polite"></span></p>
<p><button type="button" id="${name("back")}"${start.prespecified ? "" : " hidden"}>Back to the limit fixed in advance</button>
<button type="button" id="${name("chosen")}"${stops.some(({ corrected }) => corrected !== null) ? "" : " hidden"}>To a limit that the run chose</button></p>
<p id="${name("corrected")}" class="corrected" aria-live="polite"></p>
${slider("other-", "Another limit beside it")}</p>
${field("prevalence", "Prevalence in another population, %")} aria-describedby="${name("assumption")}">
<span id="${name("assumption")}" class="standing" aria-live="polite"></span></p>
${field("capacity", "Exams that there are for 1000 screened")}></p>
${field("weight", "One missed weighs as much as how many needless referrals (your own weight)")}></p>
<p class="takes">Take along: <a id="${name("csv")}" download="limit-${id}.csv">numbers as CSV</a>
<a id="${name("snippet")}" download="limit-${id}.json">limit as part of a protocol</a>
<button type="button" id="${name("picture")}">curve as PNG</button></p>
</div>
<div class="bench-figures" id="${name("figures")}">
<div class="bench-curve">${curve}
${readingsSvg(data, name)}</div>
<div class="bench-tables">
<table><caption>What the limit does</caption>
<thead><tr><td></td><th scope="col">Limit <span id="${name("heading")}">${said("heading")}</span></th><th scope="col">Beside it <span id="${name("other-heading")}">${said("other-heading")}</span></th></tr></thead>
${body}</table>
<p class="standing">Referred of 1000 is the sum of its two parts, without an interval of its own. Weights and exams are your own numbers, not a result.</p>
</div>
</div>
</div>`;
}

/** What the page's script writes at its start, for readers without scripts: the same function, on a page of plain objects. */
function startTexts(data: BenchData): ReadonlyMap<string, string> {
  const parts = new Map<string, { textContent: string | null }>();
  const made = () => ({
    value: "",
    textContent: null,
    className: "",
    hidden: false,
    setAttribute: () => undefined,
    addEventListener: () => undefined,
  });
  startBench(data, shareAtOdds, {
    getElementById: (id) => {
      const part = parts.get(id) ?? made();
      parts.set(id, part);
      return part as ReturnType<typeof made>;
    },
  });
  return new Map([...parts].map(([id, { textContent }]) => [id, textContent ?? ""]));
}

/** The page's script: the text of two functions of the library as they run here, called for each bench. */
export function benchScript(benches: readonly BenchData[]): string {
  const data = jsonText(rounded12(benches));
  return `"use strict";\nconst benches = ${data};\nfor (const data of benches) (${startBench})(data, ${shareAtOdds});\n`;
}

/** Twelve digits: the last ones of a number differ between machines, and a page shows three. */
function rounded12<Value>(value: Value): Value {
  return JSON.parse(
    JSON.stringify(value, (_, item) =>
      typeof item === "number" && !Number.isInteger(item) ? Number(item.toPrecision(12)) : item,
    ),
  );
}
