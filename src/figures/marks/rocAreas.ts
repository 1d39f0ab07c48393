import type { PartialArea, SensitivityBand } from "../../thresholds/index.js";
import type { Part } from "../figureSpec.js";
import { bandLook } from "../theme.js";
import { number } from "../words.js";
import { rocX, rocY } from "./rocAxes.js";

interface Place {
  readonly x: number;
  readonly y: number;
}

/** Limits of sensitivity at fixed false-positive rates. */
export function bandLayer({ points }: SensitivityBand): Part {
  const values = points.flatMap(({ falsePositiveRate, sensitivity }) =>
    sensitivity.kind === "estimate"
      ? [{ x: falsePositiveRate, low: sensitivity.low, high: sensitivity.high }]
      : [],
  );
  return {
    data: { values },
    mark: { type: "area", ...bandLook("first") },
    encoding: { x: rocX, y: { ...rocY, field: "low" }, y2: { field: "high" } },
  };
}

/** The area under the drawn line over false-positive rates, or right of it over sensitivities. */
export function partialLayer(rows: readonly Place[], { axis, low, high }: PartialArea): Part {
  const along = axis === "falsePositiveRate" ? "x" : "y";
  const inside = rows.filter((row) => row[along] > low && row[along] < high);
  const [first, last] = [low, high].map((at) => placeAt(rows, along, at));
  const values = [first, ...inside, last].map((row) => ({ ...row, edge: along === "x" ? 0 : 1 }));
  return {
    data: { values },
    mark: {
      type: "area",
      ...bandLook("second"),
      orient: along === "x" ? "vertical" : "horizontal",
    },
    encoding: { x: rocX, y: rocY, [`${along === "x" ? "y" : "x"}2`]: { field: "edge" } },
  };
}

export function wordsOfPartial({ axis, low, high, raw, standardised }: PartialArea): string {
  const over = axis === "falsePositiveRate" ? "false-positive rates" : "sensitivities";
  return `area over ${over} ${number(low)} to ${number(high)}: ${number(raw, 3)}, standardised ${number(standardised, 3)}`;
}

/** Where the drawn line stands at a place of one axis. */
function placeAt(rows: readonly Place[], along: "x" | "y", at: number): Place {
  const across = along === "x" ? "y" : "x";
  const next = rows.findIndex((row) => row[along] > at);
  const [a, b] = next <= 0 ? [rows.at(next)!, rows.at(next)!] : [rows[next - 1]!, rows[next]!];
  const share = b[along] === a[along] ? 0 : (at - a[along]) / (b[along] - a[along]);
  const other = a[across] + (b[across] - a[across]) * share;
  return along === "x" ? { x: at, y: other } : { x: other, y: at };
}
