import { sum } from "../rows/index.js";
import { wholePart } from "./decimalPlaces.js";
import type { PrintedTable } from "./printedTable.js";

/**
 * Widths of a table's columns within a given width: as wide as their text where all fits, otherwise
 * between the narrowest that breaks no word and no number with its interval (no interval, where that
 * is too wide), and that.
 *
 * @param measure width of a text on one line, the space beside it included
 */
export function columnWidths(
  { columns, rows }: PrintedTable,
  available: number,
  measure: (text: string, bold: boolean) => number,
): number[] {
  const widest = (parts: (text: string, numeric: boolean) => readonly string[]) =>
    columns.map(({ label, mark: letter, align, whole }, at) =>
      Math.max(
        ...parts(`${label}${letter}`, false).map((part) => measure(part, true)),
        ...rows.flatMap(({ heading, cells }) => {
          const { text, mark, numeric } = cells[at]!;
          // a number stands as far in as the longest whole part of its column
          const own = align === "decimal" ? wholePart(text).length : 0;
          const padded = `${own === 0 ? "" : "0".repeat(whole - own)}${text}${mark}`;
          return parts(padded, numeric).map((part) => measure(part, heading));
        }),
      ),
    );
  const words = (text: string) => text.split(/\s+/);
  const natural = widest((text) => [text]);
  if (sum(natural) <= available) return natural;
  const whole = widest((text, numeric) => (numeric ? [text] : words(text)));
  const bracketed = widest((text, numeric) => (numeric ? text.split(/ (?=\()/) : words(text)));
  const least = [whole, bracketed].find((one) => sum(one) <= available) ?? widest(words);
  if (sum(least) >= available) return least.map((width) => (width * available) / sum(least));
  return shared(natural, least, available);
}

/** Columns that take no more than their share are left as wide as their text; the others give way. */
function shared(natural: readonly number[], least: readonly number[], available: number): number[] {
  const kept = new Set<number>();
  let room = available;
  for (;;) {
    const fair = room / (natural.length - kept.size);
    const at = natural.findIndex((width, column) => !kept.has(column) && width <= fair);
    if (at < 0) break;
    kept.add(at);
    room -= natural[at]!;
  }
  const wide = (widths: readonly number[]) => sum(widths.filter((_, at) => !kept.has(at)));
  // where keeping them would break words in the others, every column gives way
  if (wide(least) > room) {
    kept.clear();
    room = available;
  }
  const share = (room - wide(least)) / (wide(natural) - wide(least));
  return natural.map((width, at) =>
    kept.has(at) ? width : least[at]! + (width - least[at]!) * share,
  );
}
