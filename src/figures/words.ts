import type { Estimate, OneSided, Undefined } from "../results/index.js";
import { fixed, limitAt, limitWords, percent, printSigns, quantityText } from "../rows/index.js";

export { counted, grouped, percent } from "../rows/index.js";

/** A number with a true minus sign, rounded half away from zero; no negative zero. */
export function number(value: number, decimals = 2): string {
  return printSigns(fixed(value, decimals));
}

/** "−3.00 D", as many decimals as the number has. */
export const quantity = (value: number, unit: string): string =>
  printSigns(quantityText(value, { unit }));

/** A cut-off as a limit: "≤ −3.00 D", "> +2.125 D" where it is strict. */
export function cutOffText(
  cutOff: number,
  {
    positiveWhen,
    unit,
    strict,
  }: {
    readonly positiveWhen: "high" | "low";
    readonly unit: string;
    readonly strict?: boolean;
  },
): string {
  return printSigns(
    limitWords(limitAt(cutOff, positiveWhen, { strict }), { unit, signed: unit === "D" }),
  );
}

/** "0.85 D (95 % interval 0.79 to 0.90)", or why there is no number. */
export function estimateWords(estimate: Estimate | OneSided | Undefined, unit = ""): string {
  if (estimate.kind === "undefined") return `not estimated: ${estimate.reason}`;
  if (estimate.kind === "one-sided") return oneSidedWords(estimate, unit);
  const { value, low, high, level } = estimate;
  const decimals = decimalsFor(high - low);
  const [point, from, to] = [value, low, high].map((part) => number(part, decimals));
  const space = unit === "" ? "" : ` ${unit}`;
  return `${point}${space} (${percent(level)} interval ${from} to ${to})`;
}

/** A share in percent, as tables have it: "95.3 %". */
export const shareText = (share: number): string => `${number(100 * share, 1)} %`;

/** A rate in percent, as tables have it: "95.3 % (95 % interval 91.6 to 97.4)", or why there is none. */
export function percentWords(rate: Estimate | Undefined): string {
  if (rate.kind === "undefined") return `not estimated: ${rate.reason}`;
  const [value, low, high] = [rate.value, rate.low, rate.high].map((one) => number(100 * one, 1));
  return `${value} % (${percent(rate.level)} interval ${low} to ${high})`;
}

function oneSidedWords({ value, low, high, level }: OneSided, unit: string): string {
  const end = (low ?? high)!;
  const decimals = decimalsFor(2 * Math.abs(value - end));
  const side = low === null ? "at most" : "at least";
  const space = unit === "" ? "" : ` ${unit}`;
  return `${number(value, decimals)}${space} (${side} ${number(end, decimals)}, ${percent(level)}; the outer end is not reached by these data)`;
}

/** A condition's name within a sentence: "myopia of ..." from "Myopia of ...", but "ROP". */
export function within(name: string): string {
  return /^[A-Z][a-z]/.test(name) ? `${name.charAt(0).toLowerCase()}${name.slice(1)}` : name;
}

/** "95 % intervals" at the level that the first estimate has; "intervals" without one. */
export function intervalsOf(
  estimates: readonly (Estimate | OneSided | Undefined | undefined)[],
): string {
  const first = estimates.find((one) => one?.kind === "estimate");
  return first?.kind === "estimate" ? `${percent(first.level)} intervals` : "intervals";
}

/** Capital at the beginning, full stop at the end. */
export function sentence(text: string): string {
  const trimmed = text.trim();
  return `${trimmed.charAt(0).toUpperCase()}${trimmed.slice(1)}${/[.!?]$/.test(trimmed) ? "" : "."}`;
}

/** Decimals of an estimate: two; more where its interval is narrower than 0.1, fewer from 10 on. */
export function decimalsFor(width: number): number {
  if (width >= 10) return width >= 100 ? 0 : 1;
  if (!(width > 0) || width >= 0.1) return 2;
  return width >= 0.01 ? 3 : 4;
}

/** A text in lines of at most so many letters; a longer word has a line of its own. */
export function wrapped(text: string, most: number): readonly string[] {
  const lines: string[] = [];
  for (const word of text.split(" ")) {
    const last = lines.at(-1);
    if (last !== undefined && `${last} ${word}`.length <= most) {
      lines[lines.length - 1] = `${last} ${word}`;
    } else lines.push(word);
  }
  return lines;
}
