import { accuracyFromCounts } from "../accuracy/index.js";
import { negativeRatio, positiveRatio } from "../accuracy/predictiveAtPrevalence.js";
import type { Protocol, ProtocolLimit } from "../protocol/index.js";
import type { Estimate, TwoByTwo, Undefined } from "../results/index.js";
import type { OperatingPoint } from "../thresholds/index.js";
import { correctedChoices } from "./correctedChoices.js";
import { meets, referralLimit } from "./limit.js";
import type { ConditionResult } from "./studyResult.js";

/** Value, low and high; null with the reason where there is no estimate. */
export type Triple =
  | {
      readonly value: number;
      readonly low: number;
      readonly high: number;
      readonly reason?: undefined;
    }
  | { readonly value: null; readonly reason: string };

/** One place where the limit can stand, with everything the page shows there. */
export interface BenchStop {
  /** Null for a limit fixed in advance at which no reading lies. */
  readonly cutOff: number | null;
  /** The decision in words, such as "≤ −3.00 D". */
  readonly words: string;
  readonly prespecified: boolean;
  /** Where the run chose this limit: what it corrected there, in words. */
  readonly corrected: string | null;
  readonly table: TwoByTwo;
  readonly sensitivity: Triple;
  readonly specificity: Triple;
  readonly positivePredictiveValue: Triple;
  readonly negativePredictiveValue: Triple;
  /** Factors on prior odds, so that predictive values follow at any prevalence. */
  readonly positiveRatio: Triple;
  readonly negativeRatio: Triple;
}

/** Public reports: every count between two neighbouring stops is 0 or at least this. */
export const smallestBin = 11;

/**
 * The stops of the threshold bench, from the strictest limit to the most lenient, each with the
 * estimates of `accuracyFromCounts`. A journal report stops at every distinct reading. A public one
 * stops only where merged bins end: counts of either class between neighbouring stops are 0 or at
 * least 11, so that no difference of two stops gives a small cell back.
 */
export function benchStops(condition: ConditionResult, protocol: Protocol): BenchStop[] {
  const limit = referralLimit(protocol, condition.id);
  if (condition.curve.kind === "undefined" || limit === null) return [];
  const choices = correctedChoices(condition);
  const rows = withPrespecified(condition.curve.points, limit).map((row) => {
    const own = choices.filter(({ cutOff }) => cutOff !== null && cutOff === row.cutOff);
    const words = own.map(
      ({ among, performance }) => `The run chose this limit${among}. ${performance}`,
    );
    return { ...row, corrected: words.length === 0 ? null : words.join(" ") };
  });
  const kept = protocol.audience === "public" ? mergedStops(rows) : rows;
  return kept.map((row) => stopOf(row, protocol));
}

interface Row {
  /** Null for a limit fixed in advance at which no reading lies. */
  readonly cutOff: number | null;
  readonly words: string;
  readonly prespecified: boolean;
  readonly corrected: string | null;
  readonly table: TwoByTwo;
}

/** Every operating point as a row; the pre-specified limit joins where no reading stands for it. */
function withPrespecified(
  points: readonly OperatingPoint[],
  referWhen: ProtocolLimit,
): Omit<Row, "corrected">[] {
  const { relation, limit } = referWhen;
  const inclusive = relation.startsWith(">") ? "≥" : "≤";
  const rows: Omit<Row, "corrected">[] = [];
  for (const point of points) {
    if (point.cutOff === null) continue;
    rows.push({
      cutOff: point.cutOff,
      words: `${inclusive} ${dioptreText(point.cutOff)}`,
      prespecified: relation.endsWith("=") && point.cutOff === limit,
      table: countsAt(point),
    });
  }
  if (!rows.some(({ prespecified }) => prespecified)) {
    const beyond = points.filter(
      ({ cutOff }) => cutOff !== null && meets(cutOff, referWhen),
    ).length;
    const words = `${relation.endsWith("=") ? inclusive : relation} ${dioptreText(limit)}`;
    rows.splice(beyond, 0, {
      cutOff: null,
      words,
      prespecified: true,
      table: countsAt(points[beyond]),
    });
  }
  return rows;
}

function countsAt(point: OperatingPoint): TwoByTwo {
  const { truePositive, falsePositive, falseNegative, trueNegative } = point;
  return { truePositive, falsePositive, falseNegative, trueNegative };
}

/** "−3.00 D", "+2.125 D": two decimals, or as many as there are. */
export function dioptreText(limit: number): string {
  const size = Math.abs(limit);
  const text = Number(size.toFixed(2)) === size ? size.toFixed(2) : String(Number(size.toFixed(4)));
  return `${limit < 0 ? "−" : limit > 0 ? "+" : ""}${text} D`;
}

/** Drops stops until both classes' counts between neighbours, and beyond the ends, are large. */
function mergedStops(rows: readonly Row[]): Row[] {
  const { table } = rows[0];
  const total = {
    with: table.truePositive + table.falseNegative,
    without: table.falsePositive + table.trueNegative,
  };
  const large = (from: Row | null, to: Row | null) => {
    const between = (key: "truePositive" | "falsePositive", all: number) =>
      (to?.table[key] ?? all) - (from?.table[key] ?? 0);
    return [between("truePositive", total.with), between("falsePositive", total.without)].every(
      (count) => count === 0 || count >= smallestBin,
    );
  };
  const fixed = fixedStops(rows, large);
  const kept: Row[] = [];
  rows.forEach((row, at) => {
    const from = kept.at(-1) ?? null;
    const next = fixed.find((place) => place > at);
    const end = next === undefined ? null : rows[next];
    if (fixed.includes(at) || (large(from, row) && large(row, end))) kept.push(row);
  });
  return kept;
}

/**
 * Places that stay in any case: the limit fixed in advance, then limits that the run chose, each
 * where the counts between it and those before it, and beyond the ends, are large.
 */
function fixedStops(
  rows: readonly Row[],
  large: (from: Row | null, to: Row | null) => boolean,
): number[] {
  const placesOf = (isWanted: (row: Row) => boolean) =>
    rows.flatMap((row, at) => (isWanted(row) ? [at] : []));
  const wanted = [
    ...placesOf((row) => row.prespecified),
    ...placesOf((row) => !row.prespecified && row.corrected !== null),
  ];
  let fixed: number[] = [];
  for (const place of wanted) {
    const places = [...fixed, place].sort((one, other) => one - other);
    const bins = [null, ...places.map((at) => rows[at]), null];
    if (bins.slice(1).every((row, at) => large(bins[at], row))) fixed = places;
  }
  return fixed;
}

function stopOf(row: Row, protocol: Protocol): BenchStop {
  const { table } = row;
  const { level, verification, sampling } = protocol;
  const accuracy = accuracyFromCounts(table, { level, verification, sampling });
  return {
    ...row,
    sensitivity: triple(accuracy.sensitivity),
    specificity: triple(accuracy.specificity),
    positivePredictiveValue: triple(accuracy.positivePredictiveValue),
    negativePredictiveValue: triple(accuracy.negativePredictiveValue),
    positiveRatio: triple(positiveRatio(table, "logit", level)),
    negativeRatio: triple(negativeRatio(table, "logit", level)),
  };
}

/** JSON has no infinity: 1e300 stands for it, and gives the share 1. */
function triple(estimate: Estimate | Undefined | ReturnType<typeof positiveRatio>): Triple {
  if (estimate.kind === "undefined") return { value: null, reason: estimate.reason };
  const [value, low, high] = [estimate.value, estimate.low, estimate.high].map((part) =>
    part === Number.POSITIVE_INFINITY ? 1e300 : part,
  );
  return { value, low, high };
}
