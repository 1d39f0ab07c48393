import type { BenchStop, Triple } from "../report/benchStops.js";

/** The little of a browser's page that is used here. */
interface PageElement {
  value: string;
  textContent: string | null;
  className: string;
  hidden: boolean;
  setAttribute(name: string, value: string): void;
  addEventListener(type: "input" | "click", listener: () => void): void;
}
interface ReportPage {
  getElementById(id: string): PageElement;
}
declare const document: ReportPage;

export interface BenchData {
  readonly id: string;
  readonly stops: readonly BenchStop[];
  /** Said at a stop that was neither fixed in advance nor corrected by the run. */
  readonly uncorrected: string;
  readonly plane: {
    readonly x: number;
    readonly y: number;
    readonly width: number;
    readonly height: number;
  };
  readonly samplePrevalence: number | null;
  /** Before the decimals of a number. */
  readonly decimal: string;
}

/**
 * What the report's page runs: it shows stops computed when the report was written, and turns their
 * ratios into predictive values at another prevalence by the library's own formula. It computes
 * nothing else. Its own text is the page's script, so that it names nothing outside itself.
 *
 * @param page the report, where it is shown within another page that runs this for it
 */
export function startBench(
  data: BenchData,
  shareAtOdds: (ratio: number, odds: number) => number,
  page: ReportPage = document,
): void {
  const noValue: Triple = { value: null, reason: "no valid prevalence" };
  const atOdds = (ratio: Triple, odds: number): Triple =>
    ratio.value === null
      ? ratio
      : {
          value: shareAtOdds(ratio.value, odds),
          low: shareAtOdds(ratio.low, odds),
          high: shareAtOdds(ratio.high, odds),
        };
  const inPercent = (share: number) => (100 * share).toFixed(1).replace(".", data.decimal);
  const percentText = (share: Triple): string => {
    if (share.value === null) return `– (${share.reason})`;
    const [value, low, high] = [share.value, share.low, share.high].map((part) => inPercent(part));
    return `${value} % (${low} to ${high})`;
  };
  const part = (name: string) => page.getElementById(`bench-${data.id}-${name}`);
  const slider = part("limit");
  const prevalence = part("prevalence");
  const show = () => {
    const stop = data.stops[Number(slider.value)];
    part("limit-shown").textContent = stop.words;
    slider.setAttribute("aria-valuetext", stop.words);
    part("standing").textContent = stop.prespecified
      ? "the limit fixed in advance"
      : "exploratory: chosen by looking, not corrected";
    part("corrected").textContent = stop.corrected ?? (stop.prespecified ? "" : data.uncorrected);
    part("figures").className = stop.prespecified ? "bench-figures" : "bench-figures exploratory";
    for (const [name, count] of Object.entries(stop.table)) part(name).textContent = String(count);
    part("sensitivity").textContent = percentText(stop.sensitivity);
    part("specificity").textContent = percentText(stop.specificity);
    showPredictive(stop);
    const marker = part("marker");
    marker.setAttribute("visibility", stop.point === null ? "hidden" : "visible");
    if (stop.point !== null) {
      const { sensitivity, specificity } = stop.point;
      marker.setAttribute("cx", String(data.plane.x + (1 - specificity) * data.plane.width));
      marker.setAttribute("cy", String(data.plane.y + (1 - sensitivity) * data.plane.height));
    }
  };
  const showPredictive = (stop: BenchStop) => {
    const written = prevalence.value.trim().replace(",", ".");
    const share = Number(written) / 100;
    const assumed = written !== "";
    const valid = share > 0 && share < 1;
    prevalence.setAttribute("aria-invalid", String(assumed && !valid));
    part("assumption").textContent = !assumed
      ? data.samplePrevalence === null
        ? "No prevalence is known here; type one to assume it."
        : `The sample's own prevalence, ${inPercent(data.samplePrevalence)} %.`
      : valid
        ? `An assumption: a prevalence of ${written} %, not observed here.`
        : "A prevalence is a percentage above 0 and below 100.";
    const positive = assumed
      ? valid
        ? atOdds(stop.positiveRatio, share / (1 - share))
        : noValue
      : stop.positivePredictiveValue;
    const negative = assumed
      ? valid
        ? atOdds(stop.negativeRatio, (1 - share) / share)
        : noValue
      : stop.negativePredictiveValue;
    part("positive").textContent = percentText(positive);
    part("negative").textContent = percentText(negative);
  };
  slider.addEventListener("input", show);
  prevalence.addEventListener("input", show);
  const goTo = (stop: number) => {
    slider.value = String(stop);
    show();
  };
  part("back").addEventListener("click", () => {
    goTo(data.stops.findIndex((stop) => stop.prespecified));
  });
  // from one to the next, where the run chose several
  part("chosen").addEventListener("click", () => {
    const isChosen = (stop: BenchStop, at: number) =>
      stop.corrected !== null && at > Number(slider.value);
    const next = data.stops.findIndex(isChosen);
    goTo(next < 0 ? data.stops.findIndex((stop) => stop.corrected !== null) : next);
  });
  show();
}
