import type { NumberStyle } from "../rows/index.js";
import type { Mistake } from "../rules/index.js";

/** How a report is printed: the signs within numbers, and the widths of a page's columns. */
export interface JournalStyle {
  readonly numbers: NumberStyle;
  /** Widths in millimetres of one column and of the page; null for the figures' own. */
  readonly columnMm: readonly [number, number] | null;
}

/** What of a protocol is looked at here. */
interface Choices {
  readonly journalStyle?: {
    readonly decimal?: NumberStyle["decimal"];
    readonly thousands?: NumberStyle["thousands"];
    readonly columnMm?: readonly [number, number];
  };
}

/** The style with its defaults: points, commas from 10,000 on, a thin space where the comma is the decimal sign. */
export function journalStyleOf({ journalStyle: own = {} }: Choices): JournalStyle {
  const { decimal = "point", columnMm = null } = own;
  const { thousands = decimal === "comma" ? "thin-space" : "comma" } = own;
  return { numbers: { decimal, thousands }, columnMm };
}

/** One sign for two meanings, or columns that are none. */
export function journalStyleMistakes({ journalStyle }: Choices): Mistake[] {
  if (journalStyle === undefined) return [];
  const mistakes: Mistake[] = [];
  const { decimal, thousands, columnMm } = journalStyle;
  if (decimal === "comma" && thousands === "comma") {
    const message = 'a decimal comma goes with thousands by "thin-space"';
    mistakes.push({ path: ["journalStyle", "thousands"], message });
  }
  if (columnMm !== undefined && columnMm[1] < 1.5 * columnMm[0]) {
    const message = "the page is at least one and a half times as wide as a column";
    mistakes.push({ path: ["journalStyle", "columnMm"], message });
  }
  return mistakes;
}
