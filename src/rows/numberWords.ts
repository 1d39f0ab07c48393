// Numbers in words, for tables, figures, reports and messages. Minus is "-"; `printSigns` is for print.

import { isOnGrid, onGrid } from "./dioptres.js";

/** Rounds half away from zero, on the shortest decimal form of the number. Zero has no sign. */
export function fixed(value: number, decimals: number): string {
  const size = Math.abs(value);
  const text =
    size < 1e-6 || size >= 1e15
      ? size.toFixed(decimals)
      : Number(`${Math.round(Number(`${size}e${decimals}`))}e-${decimals}`).toFixed(decimals);
  return value < 0 && Number(text) !== 0 ? `-${text}` : text;
}

/** A number whose unit nobody knows: thousandths as they are, anything finer in six significant digits. */
export function valueText(value: number): string {
  return String(isOnGrid(value) ? onGrid(value) : Number(value.toPrecision(6)));
}

/** "95 %" from 0.95, "33.3333 %": up to six significant digits. */
export function percent(share: number): string {
  return `${Number((share * 100).toPrecision(6))} %`;
}

/** A number, or its text, with commas from 10,000 on. */
export function grouped(number: number | string): string {
  const [whole, part] = String(number).split(".");
  const commas =
    whole!.replace("-", "").length < 5 ? whole! : whole!.replace(/\B(?=(\d{3})+$)/g, ",");
  return part === undefined ? commas : `${commas}.${part}`;
}

/** "1 eye", "12 eyes". */
export function counted(
  n: number,
  one: string,
  many = one === "child" ? "children" : `${one}s`,
): string {
  return `${grouped(n)} ${n === 1 ? one : many}`;
}

/**
 * Typed signs as print has them: a hyphen before a number becomes the minus sign, <= and >= become
 * ≤ and ≥. Hyphens within words and ranges stay.
 */
export function printSigns(text: string): string {
  return text
    .replace(/(^|[( ])-(?=\d)/g, "$1−")
    .replaceAll("<=", "≤")
    .replaceAll(">=", "≥");
}

/** A number keeps its unit, and an interval its ends, on one line: for texts that are broken into lines. */
export function unbroken(text: string): string {
  return text
    .replace(/\([^()]* to [^()]*\)/g, (interval) => interval.replaceAll(" ", "\u00a0"))
    .replace(/(?<=\d) (?=(?:%|D)(?![A-Za-z]))/g, "\u00a0");
}
