import type { ColumnFacts } from "./columnFacts.js";
import { decisionOf, decisionWord, isBlankMark, wordsAlike } from "./wordLists.js";

/** Some distinct cells; those of a column of a million ids are not copied for a look at the first. */
export function firstCells(facts: ColumnFacts, most: number): string[] {
  const cells: string[] = [];
  for (const text of facts.cells.keys()) {
    if (cells.length === most) break;
    cells.push(text);
  }
  return cells;
}

/** Share of the filled cells that a test takes, cells that say "nothing" apart. */
export function share(facts: ColumnFacts, test: (text: string) => boolean): number {
  let [good, all] = [0, 0];
  for (const [text, times] of facts.cells) {
    if (isBlankMark(text) && !test(text)) continue;
    all += times;
    if (test(text)) good += times;
  }
  return all === 0 ? 0 : good / all;
}

const yearWord =
  "(?:y|yr|yrs|years?|j|jr|jaar|jahre?|a|ans?|anos?|anni|ar|aar|lat|lata|rok|l|thn|tahun|yas|yil)";
const monthWord =
  "(?:m|mo|mos|mths?|months?|mon|monate?|mois|mes|meses|mesi|mnd|mdr|bln|bulan|ay|maand|maanden|man(?:eder|ader)?|mies\\w*)";
/** "5y 4m", "5 years 4 months", "5;4": completed years, and months. */
const yearsAndMonths = new RegExp(
  `^(\\d{1,2}) ?${yearWord}\\.?[ ,.;]*(?:(?:(?:and|und|et|y|e|en|og|och|i) )?(\\d{1,2}) ?${monthWord}\\.?)?$|^(\\d{1,2})[;:](\\d{1,2})$`,
  "i",
);
/** "62 m", "62 months": such cells may stand beside "5 y". */
const monthsAlone = new RegExp(`^(\\d{1,4}) ?${monthWord}\\.?$`, "i");

export function isYearsAndMonths(text: string): boolean {
  return writtenAge(text) !== null;
}

/** An age whose unit stands in its cell; completed years alone stay years. */
export function writtenAge(
  written: string,
): { readonly unit: "months" | "years"; readonly value: number } | null {
  const text = /[^\x20-\x7e]/.test(written)
    ? written.normalize("NFD").replace(/\p{M}/gu, "")
    : written;
  const [, alone] = monthsAlone.exec(text) ?? [];
  if (alone !== undefined) return { unit: "months", value: Number(alone) };
  const [, years, months, shortYears, shortMonths] = yearsAndMonths.exec(text) ?? [];
  const whole = Number(years ?? shortYears);
  const rest = months ?? shortMonths;
  if (Number.isNaN(whole) || Number(rest) > 11) return null;
  return rest === undefined
    ? { unit: "years", value: whole }
    : { unit: "months", value: 12 * whole + Number(rest) };
}

export function isAcuity(text: string): boolean {
  return /^[+-]?\d*[.,]?\d+$|^\d+ ?\/ ?\d+([.,]\d+)?( ?[+-] ?\d)?$/.test(text);
}

/** "6/9", "20/40-2": of a chart in metres or in feet. */
export function isSnellen(text: string): boolean {
  return /^(20|6) ?\/ ?\d{1,3}([.,]\d+)?( ?[+-] ?\d)?$/.test(text);
}

export function isDecision(facts: ColumnFacts): boolean {
  const judged = share(
    facts,
    (text) => decisionWord.test(wordsAlike(text)) || decisionOf(text) !== null,
  );
  const telling = firstCells(facts, 50).some(
    (text) => decisionOf(text) === "refer" || /pass|fail|risk|rescreen|aprobad|aprovad/i.test(text),
  );
  return judged > 0.7 && telling;
}

/** Text with signed decimals in most cells could be a prescription in a form that is not read. */
export function holdsPowers(facts: ColumnFacts): boolean {
  return share(facts, (text) => /[+-] ?\d+[.,]\d/.test(text)) > 0.4;
}
