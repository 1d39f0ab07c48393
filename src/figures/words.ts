import type { Estimate, Undefined } from "../results/index.js";

/** A number with a true minus sign, rounded half away from zero; no negative zero. */
export function number(value: number, decimals = 2): string {
  const text = rounded(Math.abs(value), decimals);
  return value < 0 && Number(text) !== 0 ? `−${text}` : text;
}

/** A dioptre limit such as "−3.00 D" or "−3.625 D"; other units with the decimals they need. */
export function quantity(value: number, unit: string): string {
  const own = decimalsOf(value);
  const decimals = unit === "D" ? Math.max(2, Math.min(3, own)) : Math.min(2, own);
  return unit === "" ? number(value, decimals) : `${number(value, decimals)} ${unit}`;
}

/** "0.85 D (95 % interval 0.79 to 0.90)", or why there is no number. */
export function estimateWords(estimate: Estimate | Undefined, unit = ""): string {
  if (estimate.kind === "undefined") return `not estimated: ${estimate.reason}`;
  const { value, low, high, level } = estimate;
  const decimals = decimalsFor(high - low);
  const [point, from, to] = [value, low, high].map((part) => number(part, decimals));
  const space = unit === "" ? "" : ` ${unit}`;
  return `${point}${space} (${percent(level)} interval ${from} to ${to})`;
}

/** "95 %" from 0.95. */
export function percent(share: number): string {
  return `${Number((share * 100).toPrecision(4))} %`;
}

/** "1 eye", "12 eyes". */
export function counted(
  n: number,
  one: string,
  many = one === "child" ? "children" : `${one}s`,
): string {
  return `${grouped(n)} ${n === 1 ? one : many}`;
}

/** A count with commas from 10,000 on, as in the tables. */
export function grouped(n: number): string {
  return n < 10_000 ? String(n) : n.toLocaleString("en-GB");
}

/** A condition's name within a sentence: "myopia of ..." from "Myopia of ...", but "ROP". */
export function within(name: string): string {
  return /^[A-Z][a-z]/.test(name) ? `${name.charAt(0).toLowerCase()}${name.slice(1)}` : name;
}

/** "95 % intervals" at the level that the first estimate has; "intervals" without one. */
export function intervalsOf(estimates: readonly (Estimate | Undefined | undefined)[]): string {
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

function decimalsOf(value: number): number {
  return String(value).split(".")[1]?.length ?? 0;
}

function rounded(value: number, decimals: number): string {
  if (value < 1e-6 || value > 1e15) return value.toFixed(decimals);
  return Number(`${Math.round(Number(`${value}e${decimals}`))}e-${decimals}`).toFixed(decimals);
}
