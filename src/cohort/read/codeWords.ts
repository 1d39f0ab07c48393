import { parseNumber } from "./textTable.js";

/** A code as a mapping writes it: a word, or a number however it is written. */
export type Code = string | number;

/** What the codes of a mapping stand for; a code that is a number is met by every way of writing it. */
export interface CodeWords<Meaning> {
  /** What a cell stands for; undefined where no code fits. */
  readonly of: (text: string) => Meaning | undefined;
  /** The codes that are numbers. */
  readonly numbers: ReadonlyMap<number, Meaning>;
  /** The codes as the mapping writes them. */
  readonly written: readonly string[];
}

type Decimal = "." | ",";

/** The number that a code is; NaN for a word. */
export function codeNumber(code: Code, decimal: Decimal): number {
  return typeof code === "number" ? code : parseNumber(code.trim(), decimal);
}

/**
 * Codes with their meanings: 1, "1", 1.0 and "1.0" (and "1,0" under a decimal comma) are one code, "OD"
 * is that word.
 */
export function codeWords<Meaning>(
  codes: readonly (readonly [Code, Meaning])[],
  decimal: Decimal,
): CodeWords<Meaning> {
  const words = new Map<string, Meaning>();
  const numbers = new Map<number, Meaning>();
  for (const [code, meaning] of codes) {
    const number = codeNumber(code, decimal);
    if (Number.isNaN(number)) words.set(String(code), meaning);
    else numbers.set(number, meaning);
  }
  return {
    of: (text) =>
      words.get(text) ?? (numbers.size === 0 ? undefined : numbers.get(parseNumber(text, decimal))),
    numbers,
    written: codes.map(([code]) => String(code)),
  };
}

/** The first two codes that are one number and stand for different things, or null. */
export function contradictingCodes(
  codes: readonly (readonly [Code, unknown])[],
  decimal: Decimal,
): readonly [Code, Code] | null {
  const known = new Map<string | number, readonly [Code, unknown]>();
  for (const [code, meaning] of codes) {
    const number = codeNumber(code, decimal);
    const key = Number.isNaN(number) ? String(code) : number;
    const other = known.get(key);
    if (other !== undefined && other[1] !== meaning) return [other[0], code];
    known.set(key, [code, meaning]);
  }
  return null;
}

/** The codes that a mapping knows, in words. */
export function knownCodes({ written }: Pick<CodeWords<unknown>, "written">): string {
  const shown = written.slice(0, 12).map((code) => `"${code}"`);
  return `the mapping knows ${shown.join(", ")}${written.length > 12 ? ", …" : ""}`;
}
