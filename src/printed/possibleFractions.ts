import { InputError } from "../results/index.js";
import { printedNumber } from "./printedNumber.js";
import { halvesAway, type PrintedUnit, partsOf, printedShares } from "./printedShare.js";

/** A part of a total that prints as stated. */
export interface PossibleFraction {
  readonly part: number;
  readonly total: number;
  /** Does the share stand exactly between two printed numbers? */
  readonly tie: boolean;
}

/** Every fraction of whole numbers that prints as a printed share. */
export interface PossibleFractions {
  readonly kind: "possible-fractions";
  readonly printed: string;
  readonly unit: PrintedUnit;
  readonly totals: { readonly from: number; readonly to: number };
  readonly count: number;
  /** By ascending total; the first 1000. */
  readonly fractions: readonly PossibleFraction[];
}

const caller = "possibleFractions";

/**
 * Can this percentage come from this many children? Every part of every total in the range whose
 * share prints as stated, both sides of a rounding tie included.
 *
 * @throws when the printed number is no share, the totals are no range within 1 and 1,000,000, or
 * the number is at most 1 and `unit` is not stated
 *
 * @example
 * possibleFractions({ printed: "98.31", totals: { from: 1, to: 100 } }).fractions // => [{ part: 58, total: 59, tie: false }]
 */
export function possibleFractions(source: {
  readonly printed: string;
  readonly totals: number | { readonly from: number; readonly to: number };
  readonly unit?: PrintedUnit;
}): PossibleFractions {
  const { printed, totals, unit } = source;
  const { from, to } =
    typeof totals === "object" && totals !== null ? totals : { from: totals, to: totals };
  if (!Number.isInteger(from) || !Number.isInteger(to) || from < 1 || to < from || to > 1e6) {
    throw new InputError(
      `${caller} requires totals as a whole number or { from, to } within 1 and 1000000, got ${from} to ${to}`,
    );
  }
  printedNumber(caller, "printed", printed);
  const { share } = printedShares<"printed">(caller, { printed }, unit).get("printed")!;
  const fractions: PossibleFraction[] = [];
  let count = 0;
  for (let total = from; total <= to; total += 1) {
    const parts = partsOf(share, total, 1);
    count += Math.max(0, parts.to - parts.from + 1);
    for (let part = parts.from; part <= parts.to && fractions.length < 1000; part += 1) {
      fractions.push({ part, total, tie: halvesAway(share, part, total) === 1 });
    }
  }
  return {
    kind: "possible-fractions",
    printed,
    unit: unit ?? "percent",
    totals: { from, to },
    count,
    fractions,
  };
}
