import type { ReferralRule } from "../../rules/index.js";
import type { TwoByTwo } from "../../results/index.js";
import type { Triple } from "../report/benchStops.js";
import type { RuleCounts } from "../run/movedLimits.js";
import type { BenchData } from "./benchPage.js";
import type { BenchRates, BenchSelf, BenchTools, BenchValues, ReportPage } from "./benchReadout.js";

/** A rule whose limits move, one in each age band. */
export interface RuleBenchData extends BenchSelf {
  readonly kind: "rule-bench";
  /** As the protocol has it. */
  readonly rule: ReferralRule;
  readonly bands: readonly {
    readonly asFixed: RuleCounts;
    readonly limits: readonly {
      readonly path: readonly (string | number)[];
      /** The stop fixed in advance. */
      readonly fixed: number;
      readonly stops: readonly (RuleCounts & { readonly limit: number; readonly words: string })[];
    }[];
  }[];
  readonly still: RuleCounts;
  /** The names of the numbers that are shown, and of the fields that are asked. */
  readonly shown: readonly string[];
  readonly asked: readonly string[];
  /** The two-sided normal quantile of the intervals. */
  readonly critical: number;
  /** Why the counts alone give no predictive value; null where they do. */
  readonly noPredictive: string | null;
  /** Whether passes were examined in part, so that only the share referred is of all screened. */
  readonly partly: boolean;
  /** "children", "eyes". */
  readonly rows: string;
}

/** What a bench of either kind starts from. */
export type AnyBenchData = BenchData | RuleBenchData;

/**
 * What the report's page runs for a rule: it adds the counts of its age bands, each at its own limit, and makes
 * rates and intervals of the sum by the library's own formulas. Its own text is in the page's script.
 */
export function startRuleBench(
  data: RuleBenchData,
  { benchReadout, sumOfCounts, shareAtOdds, wilsonLimits, logitRatio }: BenchTools,
  page: ReportPage,
): void {
  const { bands, critical: z } = data;
  const readout = benchReadout(data, shareAtOdds, page);
  const { part, valuesOf } = readout;
  /** By band: which of its limits moves, and to which stop. */
  const places = bands.map(({ limits }) => ({ which: 0, stop: limits[0]?.fixed ?? 0 }));
  const share = (x: number, n: number): Triple => {
    if (n === 0) return { value: null, reason: "no trials: the denominator is 0" };
    const [low, high] = wilsonLimits(x, n, z);
    return { value: x / n, low, high };
  };
  const ratio = (x1: number, n1: number, x2: number, n2: number): Triple =>
    x1 > 0 && x2 > 0
      ? logitRatio(x1, n1, x2, n2, z)
      : { value: null, reason: "a count of 0 gives no interval here" };
  const ratesOf = ({ table, screened, referred }: RuleCounts): BenchRates => {
    const { truePositive, falsePositive, falseNegative, trueNegative }: TwoByTwo = table;
    const sick = truePositive + falseNegative;
    const well = falsePositive + trueNegative;
    const predictive = (x: number, n: number): Triple =>
      data.noPredictive === null ? share(x, n) : { value: null, reason: data.noPredictive };
    return {
      table,
      sensitivity: share(truePositive, sick),
      specificity: share(trueNegative, well),
      positivePredictiveValue: predictive(truePositive, truePositive + falsePositive),
      negativePredictiveValue: predictive(trueNegative, trueNegative + falseNegative),
      positiveRatio: ratio(truePositive, sick, falsePositive, well),
      negativeRatio: ratio(trueNegative, well, falseNegative, sick),
      ...(data.partly ? { referred: share(referred, screened) } : {}),
    };
  };
  const isFixed = (band: number) =>
    bands[band]!.limits[places[band]!.which]?.fixed === places[band]!.stop;
  const countsOf = (band: number): RuleCounts => {
    const { asFixed, limits } = bands[band]!;
    const { which, stop } = places[band]!;
    return limits[which]?.stops[stop] ?? asFixed;
  };
  const write = (side: "" | "other-", values: BenchValues) => {
    for (const name of data.shown) part(`${side}${name}`).textContent = values[name]!;
  };
  const movedRule = () => {
    const rule = JSON.parse(JSON.stringify(data.rule));
    for (const [band, { limits }] of bands.entries()) {
      const { which, stop } = places[band]!;
      const limit = limits[which];
      if (limit === undefined) continue;
      let own = rule;
      for (const key of limit.path) own = own[key];
      own.limit = limit.stops[stop]!.limit;
    }
    return rule;
  };
  const show = () => {
    const moved = valuesOf(
      ratesOf(sumOfCounts([...bands.map((_, band) => countsOf(band)), data.still])),
    );
    const before = valuesOf(
      ratesOf(sumOfCounts([...bands.map(({ asFixed }) => asFixed), data.still])),
    );
    write("", moved);
    write("other-", before);
    const words: string[] = [];
    for (const [band, { limits }] of bands.entries()) {
      const { which, stop } = places[band]!;
      const at = limits[which]?.stops[stop];
      if (at === undefined) continue;
      words.push(`band ${band + 1}, limit ${which + 1}: ${at.words}`);
      part(`band-${band}-shown`).textContent = at.words;
      part(`band-${band}-said`).textContent =
        `${at.referred} of ${at.screened} ${data.rows} of this band referred${isFixed(band) ? "" : `, ${bands[band]!.asFixed.referred} by the limit fixed in advance`}`;
      // who hears the slider hears what the limit does
      part(`band-${band}-limit`).setAttribute(
        "aria-valuetext",
        `${at.words}: sensitivity ${moved.sensitivity}, specificity ${moved.specificity}`,
      );
    }
    const fixed = bands.every(({ limits }, band) => limits.length === 0 || isFixed(band));
    part("standing").textContent = fixed
      ? "the rule fixed in advance"
      : "exploratory: chosen by looking, not corrected";
    part("figures").className = fixed ? "" : "exploratory";
    if (data.asked.includes("prevalence")) readout.sayPrevalence();
    readout.offerNumbers([
      ["what", words.join("; "), "the rule fixed in advance"],
      ...data.shown.map((name) => [name, moved[name]!, before[name]!]),
    ]);
    readout.offerSnippet({ referWhen: movedRule() });
  };
  /** Stands the slider of a band where its limit is. */
  const set = (band: number) => {
    const { which, stop } = places[band]!;
    const { stops } = bands[band]!.limits[which]!;
    const slider = part(`band-${band}-limit`);
    slider.setAttribute("min", String(stops[0]!.limit));
    slider.setAttribute("max", String(stops.at(-1)!.limit));
    const step = stops.length > 1 ? stops[1]!.limit - stops[0]!.limit : 1;
    slider.setAttribute("step", String(Math.round(1000 * step) / 1000));
    slider.value = String(stops[stop]!.limit);
  };
  /** Where a slider was moved to: the nearest of its stops. */
  const moveTo = (band: number, limit: number) => {
    const { stops, fixed } = bands[band]!.limits[places[band]!.which]!;
    const away = stops.map((stop) => Math.abs(stop.limit - limit));
    const nearest = away.indexOf(Math.min(...away));
    places[band]!.stop = nearest < 0 ? fixed : nearest;
  };
  /** Another limit of a band moves; all of them are first as fixed in advance. */
  const choose = (band: number, which: number) => {
    const known = bands[band]!.limits[which] === undefined ? 0 : which;
    places[band] = { which: known, stop: bands[band]!.limits[known]!.fixed };
    part(`band-${band}-which`).value = String(known);
    set(band);
  };
  const moving = bands.flatMap(({ limits }, band) => (limits.length === 0 ? [] : [band]));
  const kept = [
    ...moving.flatMap((band) => [`band-${band}-which`, `band-${band}-limit`]),
    ...data.asked,
  ];
  const keep = () => {
    show();
    readout.keep(kept);
  };
  for (const band of moving) choose(band, 0);
  const wanted = readout.restore(kept);
  for (const band of moving) {
    const slider = part(`band-${band}-limit`);
    const which = part(`band-${band}-which`);
    if (wanted !== null) {
      choose(band, Number(wanted[`band-${band}-which`] ?? 0));
      const limit = Number(wanted[`band-${band}-limit`] ?? Number.NaN);
      if (!Number.isNaN(limit)) moveTo(band, limit);
      set(band);
    }
    which.addEventListener("input", () => {
      choose(band, Number(which.value));
      keep();
    });
    slider.addEventListener("input", () => {
      moveTo(band, Number(slider.value));
      set(band);
      keep();
    });
  }
  for (const name of data.asked) part(name).addEventListener("input", keep);
  part("back").addEventListener("click", () => {
    for (const band of moving) choose(band, places[band]!.which);
    keep();
  });
  part("controls").hidden = false;
  show();
}
