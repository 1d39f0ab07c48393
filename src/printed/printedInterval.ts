import { InputError } from "../results/index.js";
import { printedDigits as number, type PrintedNumber, printedNumber } from "./printedNumber.js";

/** A printed number with the interval printed behind it, as strings. */
export interface PrintedEstimate {
  readonly value: string;
  readonly interval?: { readonly low: string; readonly high: string };
}

const withInterval = new RegExp(
  String.raw`^(${number})(?:\s*[([]\s*(${number})\s*(?:to|through|,|;|-|\u2013|\u2012|\u2014)\s*(${number})\s*[)\]])?$`,
);

/**
 * Reads "52.27", "52.27 (42.36-62.01)", "0.85 (0.79 to 0.90)" or "-0.37 (-1.26, 0.51)".
 */
export function printedEstimate(caller: string, name: string, text: string): PrintedEstimate {
  const [, value, low, high] = (typeof text === "string" && withInterval.exec(text.trim())) || [];
  if (value === undefined) {
    throw new InputError(
      `${caller} requires ${name} as "87.04" or "87.04 (80.87 to 91.79)", a point in the numbers and no comma, got ${JSON.stringify(text)}`,
    );
  }
  return low === undefined || high === undefined
    ? { value: value.trim() }
    : { value: value.trim(), interval: { low: low.trim(), high: high.trim() } };
}

/** Both ends of a printed interval, the lower first. */
export function printedLimits(
  caller: string,
  printed: { readonly low: string; readonly high: string },
): { readonly low: PrintedNumber; readonly high: PrintedNumber } {
  return {
    low: printedNumber(caller, "low", printed?.low),
    high: printedNumber(caller, "high", printed?.high),
  };
}
