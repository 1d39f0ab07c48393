import { type Estimate, type Undefined, undefinedBecause } from "../../results/index.js";
import type { Bounds } from "../rateBounds.js";
import type { RatedCell, RateMeasure } from "./cellRates.js";
import { emptyCellWords } from "./cellWords.js";
import type { SiteSpread } from "./siteSpread.js";

/** Fewer drawn misses than these: an interval, and no point. */
const fewestDrawnMisses = 3;

/** A measure with its interval, or why there is none. */
export function measureOf(
  measure: RateMeasure,
  {
    cells,
    value,
    interval,
    within,
    level,
    drawnMisses,
    over,
  }: {
    readonly cells: readonly RatedCell[];
    readonly value: number;
    readonly interval: readonly [number, number];
    readonly within: Bounds | Undefined | null;
    readonly level: number;
    readonly drawnMisses: number | null;
    readonly over?: SiteSpread;
  },
): Estimate | Undefined {
  const [low, high] = interval;
  if (over !== undefined && !(over.effective >= 2 - 1e-9)) {
    return undefinedBecause(
      `${over.sites} sites that count as ${over.effective.toFixed(1)}: fewer than 2 give no interval`,
    );
  }
  const limits = { low, high, level, method: drawsMethod(over) };
  const side = sideOf(measure);
  const own = cells.filter(({ studied }) => side === null || studied === side);
  if (own.length === 0) {
    return undefinedBecause(`no child ${side === "refer" ? "was referred" : "passed"}`);
  }
  const blind = own.filter((cell) => cell.blind);
  if (blind.length > 0) {
    const isOpen = blind.some(
      ({ blindDecision, recorded }) => blindDecision && recorded !== "unable",
    );
    return undefinedBecause(emptyCellWords(blind), isOpen ? {} : limits);
  }
  if (Number.isNaN(value)) return undefinedBecause("no child is on that side of the condition");
  if (within?.kind === "bounds" && (value < within.low - 1e-9 || value > within.high + 1e-9)) {
    return undefinedBecause(
      "it would contradict its own counts: the children who are known besides the drawn ones leave no room for it",
    );
  }
  if (measure === "sensitivity" && drawnMisses !== null && drawnMisses < fewestDrawnMisses) {
    return undefinedBecause(
      `fewer than ${fewestDrawnMisses} missed cases were drawn: the interval says what is known, no single value does`,
      limits,
    );
  }
  return {
    kind: "estimate",
    value,
    ...limits,
    low: Math.min(low, value),
    high: Math.max(high, value),
  };
}

const drawsMethod = (over: SiteSpread | undefined): string => {
  if (over === undefined) return "verification-draws";
  return over.effective < 5 ? "verification-draws-sites-rough" : "verification-draws-sites";
};

/** A measure among those referred or passed by the studied rule needs their cells only. */
function sideOf(measure: RateMeasure): "refer" | "pass" | null {
  if (["positivePredictiveValue", "found", "wronglyReferred"].includes(measure)) return "refer";
  return ["negativePredictiveValue", "missed", "rightlyPassed"].includes(measure) ? "pass" : null;
}
