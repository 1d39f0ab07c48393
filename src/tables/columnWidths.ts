import type { PrintedTable } from "./printedTable.js";

/**
 * Widths of a table's columns within a given width: as wide as their text where all fits, otherwise
 * between the narrowest that breaks no word and no number with its interval, and that.
 *
 * @param measure width of a text on one line, the space beside it included
 */
export function columnWidths(
  { columns, rows }: PrintedTable,
  available: number,
  measure: (text: string, bold: boolean) => number,
): number[] {
  const widest = (parts: (text: string, numeric: boolean) => readonly string[]) =>
    columns.map(({ label }, at) =>
      Math.max(
        ...parts(label, false).map((part) => measure(part, true)),
        ...rows.flatMap(({ heading, cells }) => {
          const { text, mark, numeric } = cells[at]!;
          return parts(`${text}${mark}`, numeric).map((part) => measure(part, heading));
        }),
      ),
    );
  const words = (text: string) => text.split(/\s+/);
  const natural = widest((text) => [text]);
  if (sum(natural) <= available) return natural;
  const whole = widest((text, numeric) => (numeric ? [text] : words(text)));
  const least = sum(whole) <= available ? whole : widest(words);
  if (sum(least) >= available) return least.map((width) => (width * available) / sum(least));
  const share = (available - sum(least)) / (sum(natural) - sum(least));
  return least.map((width, at) => width + (natural[at]! - width) * share);
}

function sum(widths: readonly number[]): number {
  return widths.reduce((total, width) => total + width, 0);
}
