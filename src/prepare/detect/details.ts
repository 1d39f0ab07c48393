import { isYearsAndMonths, share } from "./cellForms.js";
import type { ColumnFacts } from "./columnFacts.js";

export type AgeUnit = "years" | "decimal-years" | "months" | "years-and-months";
export type AcuityNotation = "logMAR" | "snellen-feet" | "snellen-metres" | "decimal";

/** The unit of an age by its name and its values; null where both leave it open. */
export function ageUnit(facts: ColumnFacts): AgeUnit | null {
  if (share(facts, isYearsAndMonths) > 0.7) return "years-and-months";
  const { numbers, words } = facts;
  if (/\b(months?|mths?|mo|mon|monate?|mois|meses)\b/.test(words)) return "months";
  const named = /\b(years?|yrs?|y|jahre?|ans|anos)\b/.test(words);
  if (numbers.whole < 1) {
    const written = [...numbers.decimals].filter((text) => text !== "");
    // 5.11 for five years and eleven months: no decimal is ever beyond 11, and 10 or 11 are among them
    const likeMonths =
      written.every((text) => Number(text) <= 11) && written.some((text) => /^1[01]$/.test(text));
    return likeMonths ? null : "decimal-years";
  }
  if (named) return "years";
  if (numbers.high > 30) return numbers.middle >= 30 ? "months" : null;
  return numbers.high <= 19 && numbers.middle >= 3 ? "years" : null;
}

/** How acuity is written, by name and values; null where both leave it open. */
export function acuityNotation(facts: ColumnFacts): AcuityNotation | null {
  const { words, cells, numbers } = facts;
  const over = new Map<string, number>();
  let fractions = 0;
  for (const [text, times] of cells) {
    const [, numerator] = /^(\d+) ?\/ ?\d/.exec(text) ?? [];
    if (numerator === undefined) continue;
    fractions += times;
    over.set(numerator, (over.get(numerator) ?? 0) + times);
  }
  if (fractions > 0) {
    if ((over.get("20") ?? 0) === fractions) return "snellen-feet";
    return (over.get("6") ?? 0) === fractions ? "snellen-metres" : null;
  }
  if (/\blog ?mar\b/.test(words)) return "logMAR";
  if (/\bdec(imal)?\b|\bvisus\b/.test(words)) return "decimal";
  if (numbers.low < 0) return "logMAR";
  if (numbers.low >= 10 && numbers.high >= 40) return "snellen-feet";
  if (numbers.low >= 3.5 && numbers.high <= 120 && numbers.high >= 6) return "snellen-metres";
  return null;
}
