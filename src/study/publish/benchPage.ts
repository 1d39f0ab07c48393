import type { BenchStop } from "../report/benchStops.js";
import type { BenchSelf, BenchTools, ReportPage } from "./benchReadout.js";

export interface BenchData extends BenchSelf {
  readonly kind: "bench";
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
  { benchReadout, shareAtOdds }: BenchTools,
  page: ReportPage,
): void {
  const { stops } = data;
  const readout = benchReadout(data, shareAtOdds, page);
  const { part, printed, valuesOf } = readout;
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
    const values = valuesOf(stop);
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
    readout.sayPrevalence();
    readout.offerNumbers([
      ["what", own.words, other.words],
      ...Object.entries(own.values).map(([name, text]) => [name, text, other.values[name]!]),
    ]);
    const { quantity } = data;
    const relation = fixed ? data.fixedRelation : data.relation;
    const limit = Number(part("limit").value);
    readout.offerSnippet({ referWhen: { quantity, relation, limit } });
  };
  const typed = ["prevalence", "capacity", "weight"] as const;
  const kept = ["limit", "other-limit", ...typed] as const;
  const keep = () => {
    show();
    readout.keep(kept);
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
  if (readout.restore(kept) !== null) {
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
