import { isYearsAndMonths, share, writtenAge } from "./cellForms.js";
import { type ColumnFacts, plainNumber } from "./columnFacts.js";

/**
 * Of ages of two units: "years-and-months" says it in each cell, "unit-column" in another column, and under
 * "years-or-months" small numbers are years and great ones months, by a person's word.
 */
export const ageUnits = [
  ...(["years", "decimal-years", "months", "years-and-months"] as const),
  ...(["years-or-months", "unit-column"] as const),
] as const;
export type AgeUnit = (typeof ageUnits)[number];
export type AcuityNotation = "logMAR" | "snellen-feet" | "snellen-metres" | "decimal";

/** The unit of an age by its name and its values; null where both leave it open. */
export function ageUnit(facts: ColumnFacts): AgeUnit | null {
  if (share(facts, isYearsAndMonths) > 0.7) {
    const units = new Set([...facts.cells.keys()].map((text) => writtenAge(text)?.unit ?? null));
    const plain = [...facts.cells.keys()].some((text) => /^\d+$/.test(text));
    const years = units.has("years") && !units.has("months") && !plain;
    return years ? "years" : "years-and-months";
  }
  const { numbers, words } = facts;
  if (
    /\b(months?|mths?|m|mo|mos|mon|monaten?|mois|meses|mesi|maanden|mnd|maneder|manader|miesiac\w*|mies|bulan)\b/.test(
      words,
    )
  )
    return "months";
  const named =
    /\b(years?|yrs?|y|jahren?|ans|annees?|anos|anni|jaar|jaren|ar|lata?|yil|tahun|thn)\b/.test(
      words,
    );
  if (numbers.whole < 1) {
    const written = [...numbers.decimals].filter((text) => text !== "");
    // 5.11 for five years and eleven months: no decimal is ever beyond 11, and 10 or 11 are among them
    const likeMonths =
      written.every((text) => Number(text) <= 11) && written.some((text) => /^1[01]$/.test(text));
    return likeMonths || (numbers.high > 30 && !named) ? null : "decimal-years";
  }
  if (named) return "years";
  if (ageGroups(facts) !== null) return null;
  if (numbers.high > 30) return numbers.middle >= 30 ? "months" : null;
  return numbers.high <= 19 && numbers.middle >= 3 ? "years" : null;
}

/** Whole numbers that fall apart into small ones, as of years, and great ones, as of months; null where they do not. */
export function ageGroups({ cells }: ColumnFacts): { years: number; months: number } | null {
  // a number beyond all ages is somebody's, and is not shown
  const numbers = [...cells.keys()].map(plainNumber).filter((value) => value > 0 && value < 1080);
  const years = Math.max(...numbers.filter((value) => value < 20));
  const months = Math.min(...numbers.filter((value) => value >= 20));
  const apart = Number.isFinite(years) && Number.isFinite(months) && months >= 30;
  return apart ? { years, months } : null;
}

/**
 * Whether all cells are lines of a chart in decimal notation (ISO 8596: steps of a tenth of a logarithm), among
 * them some that no logMAR line is, which goes in steps of 0.02 or of 0.1.
 */
function inDecimalSteps(cells: ReadonlyMap<string, number>): boolean {
  const lines =
    /^(0[.,](0[458]|05|063|1|10|12|125|15|16|2|20|25|3|30|32|33|4|40|5|50|6|60|63|66|67|7|70|8|80|9|90)|[01]|1[.,](0|00|2|20|25|5|50|6|60)|2[.,]00?)$/;
  const only = /^(0[.,](125|15|25|33|63|67|063)|1[.,]25)$/;
  const texts = [...cells].filter(([text]) => !Number.isNaN(plainNumber(text)));
  const telling = texts
    .filter(([text]) => only.test(text))
    .reduce((sum, [, times]) => sum + times, 0);
  return telling > 1 && texts.every(([text]) => lines.test(text) && plainNumber(text) > 0);
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
  if (inDecimalSteps(cells)) return "decimal";
  // nobody's decimal acuity is 0
  const zeros = share(facts, (text) => plainNumber(text) === 0);
  if (zeros > 0.05 && numbers.high <= 2) return "logMAR";
  // children of whom none sees 0.0 and half see 0.5 or worse would be a school for the blind
  const seen = numbers.low > 0 && numbers.high >= 0.8 && numbers.high <= 2;
  if (seen && facts.filled >= 8 && numbers.middle >= 0.5) return "decimal";
  if (numbers.low >= 10 && numbers.high >= 40) return "snellen-feet";
  if (numbers.low >= 3.5 && numbers.high <= 120 && numbers.high >= 6) return "snellen-metres";
  return null;
}
