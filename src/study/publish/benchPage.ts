import type { BenchStop, Triple } from "../report/benchStops.js";

/** The little of a browser's page that is used here. */
interface PageElement {
  value: string;
  textContent: string | null;
  className: string;
  hidden: boolean;
  setAttribute(name: string, value: string): void;
  addEventListener(type: "input" | "click", listener: () => void): void;
  readonly outerHTML?: string;
}
interface Picture {
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
interface ReportPage {
  getElementById(id: string): PageElement;
  createElement?(name: string): Picture;
  readonly defaultView?: {
    readonly location: { readonly hash: string };
    readonly history: { replaceState(state: null, title: string, address: string): void };
  } | null;
}
declare const document: ReportPage;

export interface BenchData {
  readonly id: string;
  readonly stops: readonly BenchStop[];
  readonly quantity: string;
  readonly relation: "<=" | ">=";
  /** As the protocol has it, which may be strict. */
  readonly fixedRelation: string;
  /** Said at a stop that was neither fixed in advance nor corrected by the run. */
  readonly uncorrected: string;
  readonly plane: {
    readonly x: number;
    readonly y: number;
    readonly width: number;
    readonly height: number;
  };
  /** Where a number of dioptres stands in the drawing of the readings. */
  readonly axis: { readonly from: number; readonly to: number; readonly width: number };
  readonly samplePrevalence: number | null;
  /** Before the decimals of a number. */
  readonly decimal: string;
}

/**
 * What the report's page runs: it shows stops computed when the report was written, two limits side by side,
 * and turns their rates into predictive values and outcomes of 1000 at a prevalence by the library's own
 * formula. Its own text is the page's script, so that it names nothing outside itself.
 *
 * @param page the report, where it is shown within another page that runs this for it
 */
export function startBench(
  data: BenchData,
  shareAtOdds: (ratio: number, odds: number) => number,
  page: ReportPage = document,
): void {
  const { stops, decimal } = data;
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
    number.toFixed(decimals).replace("-", "−").replace(".", decimal);
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
    const written = part(name).value.trim().replace(",", ".");
    return written === "" ? null : Number(written);
  };
  const prespecified = Math.max(
    0,
    stops.findIndex((stop) => stop.prespecified),
  );
  /** Where each slider stands: the stop whose decisions a limit makes. */
  const sides = { "": prespecified, "other-": prespecified };
  const stopAt = (limit: number) => {
    const isIn = (stop: BenchStop) =>
      data.relation === "<=" ? stop.limit <= limit + 1e-9 : stop.limit >= limit - 1e-9;
    const after = stops.findIndex((stop) => !isIn(stop));
    return after < 0 ? stops.length - 1 : Math.max(0, after - 1);
  };
  const limitText = (limit: number, stop: BenchStop) => {
    if (Math.abs(stop.limit - limit) < 1e-9) return stop.words;
    const text = printed(Math.abs(limit), 3).replace(/0$/, "");
    const sign = limit < 0 ? "−" : limit > 0 && stop.words.includes("+") ? "+" : "";
    return `${data.relation === "<=" ? "≤" : "≥"} ${sign}${text} D`;
  };
  /** The prevalence that is assumed; the sample's own where none is written. */
  const prevalenceNow = () => {
    const written = numberIn("prevalence");
    const share = written === null ? data.samplePrevalence : written / 100;
    const isValid = share !== null && share > 0 && share < 1;
    return { written, share: isValid ? share : null };
  };
  const valuesAt = (stop: BenchStop): { readonly [name: string]: string } => {
    const { written, share } = prevalenceNow();
    const none: Triple = { value: null, reason: "no valid prevalence" };
    const odds = share === null ? null : share / (1 - share);
    const predictive = (own: Triple, ratio: Triple, prior: number | null) =>
      written === null ? own : prior === null ? none : atOdds(ratio, prior);
    const { sensitivity, specificity, table } = stop;
    const thousand = (rate: Triple, of: number | null) =>
      of === null ? "– (type a prevalence)" : tripleText(rate, 1000 * of, 0, "");
    const others = share === null ? null : 1 - share;
    const isKnown = share !== null && sensitivity.value !== null && specificity.value !== null;
    const rightly = isKnown ? 1000 * share * sensitivity.value : null;
    const wrongly = isKnown ? 1000 * (1 - share) * (1 - specificity.value) : null;
    const referred = rightly === null || wrongly === null ? null : rightly + wrongly;
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
      positive: percentText(predictive(stop.positivePredictiveValue, stop.positiveRatio, odds)),
      negative: percentText(
        predictive(stop.negativePredictiveValue, stop.negativeRatio, odds && 1 / odds),
      ),
      referred: referred === null ? "– (type a prevalence)" : printed(referred, 0),
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
  const plane = (share: number) => String(data.plane.x + share * data.plane.width);
  const height = (share: number) => String(data.plane.y + (1 - share) * data.plane.height);
  const draw = (side: "" | "other-", stop: BenchStop) => {
    const { point, sensitivity, specificity } = stop;
    const at = part(`${side}marker`);
    at.setAttribute("visibility", point === null ? "hidden" : "visible");
    if (point !== null) {
      at.setAttribute("cx", plane(1 - point.specificity));
      at.setAttribute("cy", height(point.sensitivity));
    }
    const isDrawn = point !== null && sensitivity.value !== null && specificity.value !== null;
    const across = part(`${side}across`);
    const up = part(`${side}up`);
    for (const line of [across, up])
      line.setAttribute("visibility", isDrawn ? "visible" : "hidden");
    if (isDrawn) {
      across.setAttribute("x1", plane(1 - specificity.high));
      across.setAttribute("x2", plane(1 - specificity.low));
      for (const end of ["y1", "y2"]) across.setAttribute(end, height(point.sensitivity));
      up.setAttribute("y1", height(sensitivity.low));
      up.setAttribute("y2", height(sensitivity.high));
      for (const end of ["x1", "x2"]) up.setAttribute(end, plane(1 - point.specificity));
    }
    const { from, to, width } = data.axis;
    const x = String(((Number(part(`${side}limit`).value) - from) / (to - from)) * width);
    for (const end of ["x1", "x2"]) part(`${side}line`).setAttribute(end, x);
  };
  const showSide = (side: "" | "other-") => {
    const stop = stops[sides[side]]!;
    const slider = part(`${side}limit`);
    const words = limitText(Number(slider.value), stop);
    const values = valuesAt(stop);
    part(`${side}limit-shown`).textContent = words;
    part(`${side}heading`).textContent = words;
    // who hears the slider hears what the limit does
    slider.setAttribute(
      "aria-valuetext",
      `${words}: sensitivity ${values.sensitivity}, specificity ${values.specificity}`,
    );
    for (const [name, text] of Object.entries(values)) part(`${side}${name}`).textContent = text;
    draw(side, stop);
    return { words, values };
  };
  const isFixed = (side: "" | "other-") =>
    stops[sides[side]]!.prespecified &&
    Math.abs(Number(part(`${side}limit`).value) - stops[sides[side]]!.limit) < 1e-9;
  const show = () => {
    const stop = stops[sides[""]]!;
    const [own, other] = [showSide(""), showSide("other-")];
    const fixed = isFixed("");
    part("standing").textContent = fixed
      ? "the limit fixed in advance"
      : "exploratory: chosen by looking, not corrected";
    part("corrected").textContent = stop.corrected ?? (fixed ? "" : data.uncorrected);
    part("figures").className = fixed ? "bench-figures" : "bench-figures exploratory";
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
    const lines = [
      ["what", own.words, other.words],
      ...Object.entries(own.values).map(([name, text]) => [name, text, other.values[name]!]),
    ];
    const csv = lines.map((line) =>
      line.map((text) => `"${text.replaceAll('"', '""')}"`).join(","),
    );
    part("csv").setAttribute(
      "href",
      `data:text/csv;charset=utf-8,${encodeURIComponent(`${csv.join("\n")}\n`)}`,
    );
    const { quantity } = data;
    const relation = fixed ? data.fixedRelation : data.relation;
    const limit = Number(part("limit").value);
    const snippet = JSON.stringify({ referWhen: { quantity, relation, limit } }, null, 2);
    part("snippet").setAttribute(
      "href",
      `data:application/json;charset=utf-8,${encodeURIComponent(`${snippet}\n`)}`,
    );
  };
  const typed = ["prevalence", "capacity", "weight"] as const;
  const kept = ["limit", "other-limit", ...typed] as const;
  const start = `#bench-${data.id}?`;
  /** The state stands in the page's address, so that it is there again, and can be passed on. */
  const keep = () => {
    show();
    const state = kept.map((name) => `${name}=${encodeURIComponent(part(name).value)}`);
    try {
      page.defaultView?.history.replaceState(null, "", `${start}${state.join("&")}`);
    } catch {
      // a page within another one has no address of its own
    }
  };
  const moved = (side: "" | "other-") => {
    sides[side] = stopAt(Number(part(`${side}limit`).value));
  };
  const goTo = (side: "" | "other-", stop: number) => {
    sides[side] = stop;
    part(`${side}limit`).value = String(stops[stop]!.limit);
  };
  goTo("", prespecified);
  goTo("other-", prespecified);
  const hash = page.defaultView?.location.hash ?? "";
  if (hash.startsWith(start)) {
    for (const pair of hash.slice(start.length).split("&")) {
      const [name, value] = pair.split("=");
      const own = kept.find((one) => one === name);
      if (own !== undefined && value !== undefined) part(own).value = decodeURIComponent(value);
    }
    moved("");
    moved("other-");
  }
  for (const side of ["", "other-"] as const) {
    part(`${side}limit`).addEventListener("input", () => {
      moved(side);
      keep();
    });
  }
  for (const name of typed) part(name).addEventListener("input", keep);
  part("back").addEventListener("click", () => {
    goTo("", prespecified);
    keep();
  });
  // from one to the next, where the run chose several
  part("chosen").addEventListener("click", () => {
    const isChosen = (stop: BenchStop, at: number) => stop.corrected !== null && at > sides[""];
    const next = stops.findIndex(isChosen);
    goTo("", next < 0 ? stops.findIndex((stop) => stop.corrected !== null) : next);
    keep();
  });
  part("picture").addEventListener("click", () => {
    const [image, canvas, link] = ["img", "canvas", "a"].map((name) => page.createElement!(name));
    const { outerHTML = "" } = part("curve");
    const size = /viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(outerHTML)!;
    const [width, height] = [4 * Number(size[1]), 4 * Number(size[2])];
    image!.onload = () => {
      canvas!.width = width;
      canvas!.height = height;
      canvas!.getContext("2d").drawImage(image, 0, 0, width, height);
      link!.setAttribute("download", `limit-${data.id}.png`);
      link!.setAttribute("href", canvas!.toDataURL("image/png"));
      link!.click();
    };
    const sized = outerHTML.replace(/^<svg/, `<svg width="${width}" height="${height}"`);
    image!.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(sized)}`;
  });
  part("controls").hidden = false;
  show();
}
