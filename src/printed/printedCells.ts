import { InputError } from "../results/index.js";
import { printedDigits as number } from "./printedNumber.js";
import type { PrintedRow } from "./readPrintedRows.js";

const pair = new RegExp(String.raw`^[([]?\s*(${number})\s*(?:to|,|;)\s*(${number})\s*[)\]]?$`);

/** Two printed numbers: "-0.94 to 4.85", with "to", a comma or a semicolon between them. */
export function printedPair(
  name: string,
  text: string,
): { readonly low: string; readonly high: string } {
  const [, low, high] = pair.exec(text.trim()) ?? [];
  if (low === undefined || high === undefined) {
    throw new InputError(`requires ${name} as "-0.94 to 4.85", got "${text}"`);
  }
  return { low: low.trim(), high: high.trim() };
}

/** A known count, or a range such as "659-709"; undefined where the cell is blank. */
export function countCell(
  cells: PrintedRow["cells"],
  name: string,
): number | { readonly from: number; readonly to: number } | undefined {
  const text = cells[name];
  if (text === undefined) return undefined;
  const [, from, to] = /^(\d+)(?:\s*(?:-|\u2013|to)\s*(\d+))?$/.exec(text.trim()) ?? [];
  if (from === undefined) {
    throw new InputError(
      `requires ${name} as a whole number or a range such as 659-709, got "${text}"`,
    );
  }
  return to === undefined ? Number(from) : { from: Number(from), to: Number(to) };
}

/** A known count that is no range. */
export function wholeCell(cells: PrintedRow["cells"], name: string): number | undefined {
  const count = countCell(cells, name);
  if (typeof count === "object") {
    throw new InputError(`requires ${name} as one whole number, got "${cells[name]}"`);
  }
  return count;
}

/** "0.84" or "0.84 to 0.86". */
export function rangeText(
  { low, high }: { readonly low: number; readonly high: number },
  shown: (value: number) => string,
): string {
  const [one, other] = [shown(low), shown(high)];
  return one === other ? one : `${one} to ${other}`;
}
