import type { TwoByTwo } from "../../results/index.js";
import type { Triple } from "../report/benchStops.js";
import type { RuleCounts } from "../run/movedLimits.js";

/** The little of a browser's page that is used here. */
export interface PageElement {
  value: string;
  textContent: string | null;
  className: string;
  hidden: boolean;
  setAttribute(name: string, value: string): void;
  addEventListener(type: "input" | "click", listener: () => void): void;
  readonly outerHTML?: string;
}
export interface Picture {
  width: number;
  height: number;
  onload: () => void;
  src: string;
  readonly href?: string;
  getContext(kind: "2d"): { drawImage(...given: readonly unknown[]): void };
  toDataURL(kind: string): string;
  setAttribute(name: string, value: string): void;
  click(): void;
}
export interface ReportPage {
  getElementById(id: string): PageElement;
  createElement?(name: string): Picture;
  readonly defaultView?: {
    readonly location: { readonly hash: string };
    readonly history: { replaceState(state: null, title: string, address: string): void };
  } | null;
}

/** What a table of the bench is filled from. */
export interface BenchRates {
  readonly table: TwoByTwo;
  readonly sensitivity: Triple;
  readonly specificity: Triple;
  readonly positivePredictiveValue: Triple;
  readonly negativePredictiveValue: Triple;
  readonly positiveRatio: Triple;
  readonly negativeRatio: Triple;
  /** The share referred, where it was counted; else it follows from the rates and a prevalence. */
  readonly referred?: Triple;
}

/** What every bench says of itself. */
export interface BenchSelf {
  readonly id: string;
  readonly samplePrevalence: number | null;
  /** Before the decimals of a number. */
  readonly decimal: string;
}

export type BenchValues = { readonly [name: string]: string };

/**
 * What every bench of a page has in common: numbers in words, outcomes of 1000 at a prevalence, what is taken along,
 * and its state in the page's address. The page carries the text of this function, which names nothing outside itself.
 */
export function benchReadout(
  data: BenchSelf,
  shareAtOdds: (ratio: number, odds: number) => number,
  page: ReportPage,
) {
  const part = (name: string) => page.getElementById(`bench-${data.id}-${name}`);
  const atOdds = (ratio: Triple, odds: number): Triple =>
    ratio.value === null
      ? ratio
      : {
          value: shareAtOdds(ratio.value, odds),
          low: shareAtOdds(ratio.low, odds),
          high: shareAtOdds(ratio.high, odds),
        };
  const printed = (number: number, decimals: number) =>
    number.toFixed(decimals).replace("-", "−").replace(".", data.decimal);
  const tripleText = (one: Triple, factor: number, decimals: number, unit: string): string => {
    if (one.value === null) return `– (${one.reason})`;
    const [value, low, high] = [one.value, one.low, one.high].map((number) =>
      printed(factor * number, decimals),
    );
    return `${value}${unit} (${low} to ${high})`;
  };
  const percentText = (share: Triple) => tripleText(share, 100, 1, " %");
  const complement = (share: Triple): Triple =>
    share.value === null
      ? share
      : { value: 1 - share.value, low: 1 - share.high, high: 1 - share.low };
  const numberIn = (name: string) => {
    // not every bench asks for each of them
    const asked = part(name) as PageElement | null;
    const written = asked?.value.trim().replace(",", ".") ?? "";
    return written === "" ? null : Number(written);
  };
  /** The prevalence that is assumed; the sample's own where none is written. */
  const prevalenceNow = () => {
    const written = numberIn("prevalence");
    const share = written === null ? data.samplePrevalence : written / 100;
    const isValid = share !== null && share > 0 && share < 1;
    return { written, share: isValid ? share : null };
  };
  const valuesOf = (rates: BenchRates): BenchValues => {
    const { written, share } = prevalenceNow();
    const none: Triple = { value: null, reason: "no valid prevalence" };
    const odds = share === null ? null : share / (1 - share);
    const predictive = (own: Triple, ratio: Triple, prior: number | null) =>
      written === null ? own : prior === null ? none : atOdds(ratio, prior);
    const { sensitivity, specificity, table } = rates;
    const thousand = (rate: Triple, of: number | null) =>
      of === null ? "– (type a prevalence)" : tripleText(rate, 1000 * of, 0, "");
    const others = share === null ? null : 1 - share;
    const isKnown = share !== null && sensitivity.value !== null && specificity.value !== null;
    const rightly = isKnown ? 1000 * share * sensitivity.value : null;
    const wrongly = isKnown ? 1000 * (1 - share) * (1 - specificity.value) : null;
    const counted = rates.referred;
    const referred = counted
      ? counted.value && 1000 * counted.value
      : rightly === null || wrongly === null
        ? null
        : rightly + wrongly;
    const capacity = numberIn("capacity");
    const weight = numberIn("weight");
    const missed = rightly === null ? null : 1000 * share! - rightly;
    return {
      truePositive: String(table.truePositive),
      falsePositive: String(table.falsePositive),
      falseNegative: String(table.falseNegative),
      trueNegative: String(table.trueNegative),
      sensitivity: percentText(sensitivity),
      specificity: percentText(specificity),
      positive: percentText(predictive(rates.positivePredictiveValue, rates.positiveRatio, odds)),
      negative: percentText(
        predictive(rates.negativePredictiveValue, rates.negativeRatio, odds && 1 / odds),
      ),
      referred: counted
        ? tripleText(counted, 1000, 0, "")
        : referred === null
          ? "– (type a prevalence)"
          : printed(referred, 0),
      rightly: thousand(sensitivity, share),
      wrongly: thousand(complement(specificity), others),
      missed: thousand(complement(sensitivity), share),
      beyond:
        capacity === null || referred === null || Number.isNaN(capacity)
          ? "–"
          : printed(Math.max(0, referred - capacity), 0),
      burden:
        weight === null || wrongly === null || missed === null || Number.isNaN(weight)
          ? "–"
          : printed(wrongly + weight * missed, 0),
    };
  };
  const sayPrevalence = () => {
    const { written, share } = prevalenceNow();
    part("prevalence").setAttribute("aria-invalid", String(written !== null && share === null));
    part("assumption").textContent =
      written === null
        ? share === null
          ? "No prevalence is known here; type one to assume it."
          : `The sample's own prevalence, ${printed(100 * share, 1)} %.`
        : share === null
          ? "A prevalence is a percentage above 0 and below 100."
          : `An assumption: a prevalence of ${part("prevalence").value.trim()} %, not observed here.`;
  };
  const offer = (name: string, type: string, text: string) =>
    part(name).setAttribute(
      "href",
      `data:${type};charset=utf-8,${encodeURIComponent(`${text}\n`)}`,
    );
  const offerNumbers = (lines: readonly (readonly string[])[]) => {
    const quoted = (text: string) => `"${text.replaceAll('"', '""')}"`;
    offer("csv", "text/csv", lines.map((line) => line.map(quoted).join(",")).join("\n"));
  };
  const offerSnippet = (snippet: object) =>
    offer("snippet", "application/json", JSON.stringify(snippet, null, 2));
  const start = `#bench-${data.id}?`;
  /** The state stands in the page's address, so that it is there again, and can be passed on. */
  const keep = (kept: readonly string[]) => {
    const state = kept.map((name) => `${name}=${encodeURIComponent(part(name).value)}`);
    try {
      page.defaultView?.history.replaceState(null, "", `${start}${state.join("&")}`);
    } catch {
      // a page within another one has no address of its own
    }
  };
  /** The state that the address names, and the parts filled from it; null where it speaks of another bench. */
  const restore = (kept: readonly string[]): BenchValues | null => {
    const hash = page.defaultView?.location.hash ?? "";
    if (!hash.startsWith(start)) return null;
    const found: { [name: string]: string } = {};
    for (const pair of hash.slice(start.length).split("&")) {
      const [name, value] = pair.split("=");
      const own = kept.find((one) => one === name);
      if (own === undefined || value === undefined) continue;
      found[own] = decodeURIComponent(value);
      part(own).value = found[own];
    }
    return found;
  };
  return { part, printed, valuesOf, sayPrevalence, offerNumbers, offerSnippet, keep, restore };
}

/** Counts of several bands together. */
export function sumOfCounts(all: readonly RuleCounts[]): RuleCounts {
  const of = (count: (one: RuleCounts) => number) =>
    all.reduce((total, one) => total + count(one), 0);
  return {
    table: {
      truePositive: of(({ table }) => table.truePositive),
      falsePositive: of(({ table }) => table.falsePositive),
      falseNegative: of(({ table }) => table.falseNegative),
      trueNegative: of(({ table }) => table.trueNegative),
    },
    screened: of(({ screened }) => screened),
    referred: of(({ referred }) => referred),
  };
}

/** What a bench is started with, whose texts the page's script is made of. */
export interface BenchTools {
  readonly benchReadout: typeof benchReadout;
  readonly sumOfCounts: typeof sumOfCounts;
  readonly shareAtOdds: (ratio: number, odds: number) => number;
  readonly wilsonLimits: (x: number, n: number, z: number) => [number, number];
  readonly logitRatio: (
    x1: number,
    n1: number,
    x2: number,
    n2: number,
    z: number,
  ) => { readonly value: number; readonly low: number; readonly high: number };
}
