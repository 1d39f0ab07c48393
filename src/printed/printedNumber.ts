import { InputError } from "../results/index.js";

/** A number as it stands in print: its decimals count. */
export interface PrintedNumber {
  readonly text: string;
  readonly value: number;
  readonly decimals: number;
  /** The number in units of its last digit: 87.04 is 8704. */
  readonly units: number;
  readonly percentSign: boolean;
}

/** The numbers that round to a printed one, both ends included. */
export interface RoundingRange {
  readonly low: number;
  readonly high: number;
}

/** A printed number within a longer text, as the source of a regular expression. */
export const printedDigits = String.raw`[+\-\u2212\u2013]?\d*[.\u00b7]?\d+\s*%?`;

const pattern = /^([+\-\u2212\u2013]?)(\d*)(?:[.\u00b7](\d+))?\s*(%?)$/;

/**
 * Reads a printed number: "87.04", ".97", "100 %", "−0.94" with a hyphen, a minus or a dash, and
 * the raised decimal point that some journals print. A comma is refused, since it divides
 * thousands in one country and decimals in the next.
 */
export function printedNumber(caller: string, name: string, text: string): PrintedNumber {
  const found = typeof text === "string" ? pattern.exec(text.trim()) : null;
  const [, sign, whole = "", part = "", percent] = found ?? [];
  if (found === null || whole + part === "" || (whole + part).length > 12) {
    const got = typeof text === "string" ? `"${text}"` : `${typeof text} ${text}`;
    throw new InputError(
      `${caller} requires ${name} as a printed number such as "87.04" (a string, so that its decimals count; a point, not a comma), got ${got}`,
    );
  }
  const size = Number(whole + part);
  const units = sign === "" || sign === "+" || size === 0 ? size : -size;
  return {
    text: text.trim(),
    value: units / 10 ** part.length,
    decimals: part.length,
    units,
    percentSign: percent === "%",
  };
}

/** The numbers that print as this one. */
export function roundingRange({ units, decimals }: PrintedNumber): RoundingRange {
  const scale = 10 ** decimals;
  return { low: (units - 0.5) / scale, high: (units + 0.5) / scale };
}

/** How a recomputed number meets a printed one. */
export type PrintedFit = "rounded" | "truncated" | "one-off" | "none";

/**
 * "rounded" where it rounds to the printed digits (either side of a tie), "truncated" where it only
 * does when the further digits are cut off, "one-off" where the last digit differs by one.
 */
export function printedFit(value: number, { units, decimals }: PrintedNumber): PrintedFit {
  const exact = value * 10 ** decimals;
  const away = Math.abs(exact - units);
  const noise = 1e-9 * Math.max(1, Math.abs(exact));
  if (away <= 0.5 + noise) return "rounded";
  if (away < 1 && Math.abs(exact) >= Math.abs(units)) return "truncated";
  return away <= 1.5 + noise ? "one-off" : "none";
}

/** The number with the decimals of a printed one, halves away from zero. */
export function asPrinted(value: number, { decimals }: { readonly decimals: number }): string {
  const size = Math.round(Number(`${Math.abs(value).toFixed(12)}e${decimals}`));
  const text = (size / 10 ** decimals).toFixed(decimals);
  return value < 0 && size !== 0 ? `-${text}` : text;
}
