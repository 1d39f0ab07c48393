import { accuracyFromCounts } from "../accuracy/index.js";
import { negativeRatio, positiveRatio } from "../accuracy/predictiveAtPrevalence.js";
import type { Protocol, ProtocolLimit } from "../protocol/index.js";
import type { Estimate, TwoByTwo, Undefined } from "../results/index.js";
import type { OperatingPoint } from "../thresholds/index.js";
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
  /** The decision in words, such as "≤ −3.00 D". */
  readonly words: string;
  readonly prespecified: boolean;
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
  const rows = withPrespecified(condition.curve.points, limit);
  const kept = protocol.audience === "public" ? mergedStops(rows) : rows;
  return kept.map((row) => stopOf(row, protocol));
}

interface Row {
  readonly words: string;
  readonly prespecified: boolean;
  readonly table: TwoByTwo;
}

/** Every operating point as a row; the pre-specified limit joins where no reading stands for it. */
function withPrespecified(points: readonly OperatingPoint[], referWhen: ProtocolLimit): Row[] {
  const { relation, limit } = referWhen;
  const inclusive = relation.startsWith(">") ? "≥" : "≤";
  const rows: Row[] = [];
  for (const point of points) {
    if (point.cutOff === null) continue;
    rows.push({
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
    rows.splice(beyond, 0, { words, prespecified: true, table: countsAt(points[beyond]) });
  }
  return rows;
}

function countsAt(point: OperatingPoint): TwoByTwo {
  const { truePositive, falsePositive, falseNegative, trueNegative } = point;
  return { truePositive, falsePositive, falseNegative, trueNegative };
}

/** "−3.00 D", "+2.125 D": two decimals, or as many as there are. */
function dioptreText(limit: number): string {
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
  // the pre-specified limit stays where both sides of it are large enough
  const anchor = rows.findIndex((row) => row.prespecified);
  const fixed = anchor >= 0 && large(null, rows[anchor]) && large(rows[anchor], null) ? anchor : -1;
  const kept: Row[] = [];
  rows.forEach((row, at) => {
    const from = kept.at(-1) ?? null;
    const end = at < fixed ? rows[fixed] : null;
    if (at === fixed || (large(from, row) && large(row, end))) kept.push(row);
  });
  return kept;
}

function stopOf({ words, prespecified, table }: Row, protocol: Protocol): BenchStop {
  const { level, verification, sampling } = protocol;
  const accuracy = accuracyFromCounts(table, { level, verification, sampling });
  return {
    words,
    prespecified,
    table,
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
