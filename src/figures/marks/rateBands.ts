import type { ShareBand } from "../../privacy/index.js";
import type { Part } from "../figureSpec.js";
import { percentLabels } from "./seriesLayers.js";
import { sentence } from "../words.js";

/** From the middle of the lowest band to that of the highest; wider where there is one only. */
export function domainOf(bands: readonly ShareBand[]): readonly [number, number] {
  const [first, last] = [bands[0]!, bands.at(-1)!];
  return bands.length === 1
    ? [first.low, first.high]
    : [(first.low + first.high) / 2, (last.low + last.high) / 2];
}

const legendPlace = { orient: "top", direction: "horizontal", offset: 4 } as const;

export function gradientLegend(ends: readonly number[], show: string): Part {
  return {
    ...legendPlace,
    title: `${show} (%)`,
    titleOrient: "left",
    gradientLength: 90,
    gradientThickness: 6,
    ...percentLabels,
    values: ends[0] === ends[1] ? [ends[0]] : ends,
  };
}

export function bandLegend(bands: readonly ShareBand[], show: string): Part {
  const words = bands.map(
    ({ low, high }) => `${Math.round(100 * low)} to ${Math.round(100 * high)}`,
  );
  const middles = bands.map(({ low, high }) => (low + high) / 2);
  return {
    ...legendPlace,
    title: `${sentence(show).slice(0, -1)} (%)`,
    type: "symbol",
    symbolType: "square",
    symbolSize: 60,
    symbolStrokeWidth: 0,
    columns: 3,
    values: middles,
    labelExpr: `${JSON.stringify(words)}[indexof(${JSON.stringify(middles)}, datum.value)]`,
  };
}
