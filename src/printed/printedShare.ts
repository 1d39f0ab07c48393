import { InputError } from "../results/index.js";
import { type PrintedNumber, printedNumber } from "./printedNumber.js";

/** How the shares of a table are printed: 87.04 or 0.8704. */
export type PrintedUnit = "percent" | "proportion";

/** The unit, where it is stated. */
export function requireUnit(caller: string, unit: unknown): PrintedUnit | undefined {
  if (unit === undefined || unit === "percent" || unit === "proportion") return unit;
  throw new InputError(
    `${caller === "" ? "" : `${caller} `}requires unit "percent" or "proportion", got ${JSON.stringify(unit)}`,
  );
}

/** A printed share as whole numbers: `units` of `whole`, so that 87.04 % is 8704 of 10000. */
export interface PrintedShare {
  readonly units: number;
  readonly whole: number;
}

/** Whole counts from `from` to `to`; empty where `from` is above `to`. */
export interface Counts {
  readonly from: number;
  readonly to: number;
}

/** A share from its printed number; a percent sign holds whatever the unit says. */
function printedShare(
  caller: string,
  name: string,
  number: PrintedNumber,
  unit: PrintedUnit,
): PrintedShare {
  if (number.decimals > 6) {
    throw new InputError(
      `${caller} requires ${name} with at most 6 decimals, got "${number.text}"`,
    );
  }
  const whole = 10 ** number.decimals * (unit === "percent" || number.percentSign ? 100 : 1);
  if (number.units < 0 || number.units > whole) {
    const range = whole === 10 ** number.decimals ? "0 to 1" : "0 to 100";
    throw new InputError(`${caller} requires ${name} from ${range}, got "${number.text}"`);
  }
  return { units: number.units, whole };
}

/** Reads every printed share or says which one is none. */
export function printedShares<Measure extends string>(
  caller: string,
  printed: Readonly<Partial<Record<Measure, string>>>,
  unit: PrintedUnit | undefined,
): Map<Measure, { readonly number: PrintedNumber; readonly share: PrintedShare }> {
  const numbers = (Object.entries(printed) as [Measure, string | undefined][])
    .filter((entry): entry is [Measure, string] => entry[1] !== undefined)
    .map(([measure, text]) => [measure, printedNumber(caller, measure, text)] as const);
  if (
    unit === undefined &&
    numbers.length > 0 &&
    numbers.every(
      ([, { value, decimals, percentSign }]) => value <= 1 && decimals > 0 && !percentSign,
    )
  ) {
    throw new InputError(
      `${caller} requires unit: "percent" or "proportion" when no printed number is above 1, got ${numbers.map(([, { text }]) => text).join(", ")}`,
    );
  }
  return new Map(
    numbers.map(([measure, number]) => [
      measure,
      { number, share: printedShare(caller, measure, number, unit ?? "percent") },
    ]),
  );
}

/**
 * The parts of `total` whose share prints as stated, within `halves` half units of the last digit
 * (1 is rounding, both sides of a tie included).
 */
export function partsOf({ units, whole }: PrintedShare, total: number, halves: number): Counts {
  if (total === 0) return none;
  return {
    from: Math.max(0, quotientUp((2 * units - halves) * total, 2 * whole)),
    to: Math.min(total, quotientDown((2 * units + halves) * total, 2 * whole)),
  };
}

/** The totals of which `part` has a share that prints as stated, up to `most`. */
export function totalsOf(
  { units, whole }: PrintedShare,
  part: number,
  halves: number,
  most: number,
): Counts {
  const highest = 2 * units + halves;
  const lowest = 2 * units - halves;
  return {
    from: Math.max(1, part, quotientUp(2 * whole * part, highest)),
    to: lowest > 0 ? Math.min(most, quotientDown(2 * whole * part, lowest)) : most,
  };
}

/**
 * The parts that can have such a share of themselves and some rest in a range; one too many at either
 * end, since it only narrows a search.
 */
export function partsBeside({ units, whole }: PrintedShare, rest: Counts, halves: number): Counts {
  const low = (2 * units - halves) / (2 * whole);
  const high = (2 * units + halves) / (2 * whole);
  return {
    from: low < 1 ? Math.floor((low * rest.from) / (1 - low)) - 1 : 0,
    to: high < 1 ? Math.ceil((high * rest.to) / (1 - high)) + 1 : Number.POSITIVE_INFINITY,
  };
}

/** How far a share of counts is from print, in half units of the last digit; 1 is a rounding tie. */
export function halvesAway({ units, whole }: PrintedShare, part: number, total: number): number {
  return (2 * Math.abs(whole * part - units * total)) / total;
}

/** The share that is left: 12.96 % of 87.04 %. */
export const complement = ({ units, whole }: PrintedShare): PrintedShare => ({
  units: whole - units,
  whole,
});

/** What two ranges of counts share. */
export const overlap = (one: Counts, other: Counts): Counts => ({
  from: Math.max(one.from, other.from),
  to: Math.min(one.to, other.to),
});

/** No count at all. */
export const none: Counts = { from: 0, to: -1 };

// exact for products below 2^53, whatever the rounding of the division
function quotientDown(numerator: number, denominator: number): number {
  let quotient = Math.floor(numerator / denominator);
  while (quotient * denominator > numerator) quotient -= 1;
  while ((quotient + 1) * denominator <= numerator) quotient += 1;
  return quotient;
}

const quotientUp = (numerator: number, denominator: number): number =>
  -quotientDown(-numerator, denominator);
