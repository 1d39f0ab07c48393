import { type CoarseCount, type CoarseRate, coarseRate, totalOf } from "../../disclosure/index.js";
import type { CoarseCondition, CoarseStudy } from "./coarseStudy.js";

/** Those whom the reading does not decide, and both rates if they counted as not referred. */
export interface CoarseUndecided {
  /** Children; null where the flow is withheld. */
  readonly children: CoarseCount | null;
  /** From none of them with the condition to all; null where that cannot be said. */
  readonly sensitivity: CoarseRate | null;
  readonly specificity: CoarseRate | null;
}

/**
 * Of the first condition, where the undecided are left out and everybody was examined: from counts that the
 * report prints. How many of them have the condition is a count that no table gives. Null elsewhere.
 */
export function coarseUndecided(
  { counts, id }: CoarseCondition,
  { protocol, flow, conditions }: Pick<CoarseStudy, "protocol" | "flow" | "conditions">,
): CoarseUndecided | null {
  const { undecidable, verification, unit, eye } = protocol;
  if (undecidable !== "exclude" || verification !== "complete" || conditions[0]?.id !== id) {
    return null;
  }
  const none = { children: flow?.undecided ?? null, sensitivity: null, specificity: null };
  // of two eyes as rows children say nothing
  if (counts === null || flow === null || (unit === "eye" && eye === "both")) return none;
  const { truePositive, falseNegative, falsePositive, trueNegative } = counts.table;
  const range = (
    cells: readonly CoarseCount[],
    rates: readonly ((counts: readonly number[]) => number)[],
  ) => {
    const [least, most] = rates.map((rate) => coarseRate(cells, rate, () => ({})));
    return least && most ? { ...least, to: most.to } : null;
  };
  const n = (values: readonly number[], at: number) => values[at] ?? 0;
  return {
    ...none,
    sensitivity: range(
      [truePositive, falseNegative, flow.undecided],
      [
        (of) => n(of, 0) / (n(of, 0) + n(of, 1) + n(of, 2)),
        (of) => n(of, 0) / (n(of, 0) + n(of, 1)),
      ],
    ),
    specificity: range(
      [trueNegative, falsePositive, flow.undecided],
      [
        (of) => n(of, 0) / (n(of, 0) + n(of, 1)),
        (of) => (n(of, 0) + n(of, 2)) / (n(of, 0) + n(of, 1) + n(of, 2)),
      ],
    ),
  };
}

/** The share with the condition among those compared, where cases are over-represented; else null. */
export function coarseShareWith(
  { counts }: CoarseCondition,
  { sampling, verification }: CoarseStudy["protocol"],
): { readonly cases: CoarseCount; readonly share: CoarseRate } | null {
  if (counts === null || sampling !== "enriched" || verification !== "complete") return null;
  const { truePositive, falseNegative, falsePositive, trueNegative } = counts.table;
  const share = coarseRate(
    [truePositive, falseNegative, falsePositive, trueNegative],
    ([a = 0, b = 0, c = 0, d = 0]) => (a + b) / (a + b + c + d),
    () => ({}),
  );
  return share && { cases: totalOf([truePositive, falseNegative]), share };
}
