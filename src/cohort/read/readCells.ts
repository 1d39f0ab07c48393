import type { ProblemLog, ProblemRule } from "../problemLog.js";
import type { TextTable } from "./textTable.js";

/** What the cells of one part are read with. */
export interface CellContext {
  readonly table: TextTable;
  readonly log: ProblemLog;
  /** The rows of the table that are kept. */
  readonly rows: Int32Array;
  readonly missing: ReadonlySet<string>;
  readonly missingNumbers: ReadonlySet<number>;
}

export interface NumberRule {
  readonly low: number;
  readonly high: number;
  readonly rule: ProblemRule;
  /** Reads a cell that is no plain number; NaN where it cannot. */
  readonly otherwise?: (text: string) => number;
  /** Cells with this text are not wrong; they say something else. */
  readonly marks?: ReadonlyMap<string, unknown>;
}

/**
 * One numeric column, written into `values`: NaN where the cell is empty, a missing code or set aside. Cells that are not
 * numbers, or lie outside the limits, are listed and set aside.
 */
export function readNumbers(
  { table, log, rows, missing, missingNumbers }: CellContext,
  column: number,
  { low, high, rule, otherwise, marks }: NumberRule,
  values: Float64Array = new Float64Array(rows.length),
): Float64Array {
  const numbers = table.numbers(column);
  const codes = missingNumbers.size > 0;
  for (let k = 0; k < rows.length; k++) {
    const row = rows[k];
    const value = numbers[row];
    if (value >= low && value <= high && !(codes && missingNumbers.has(value))) {
      values[k] = value;
      continue;
    }
    values[k] = Number.NaN;
    if (missingNumbers.has(value)) continue;
    const text = table.text(column, row);
    if (text === "" || missing.has(text) || marks?.has(text)) continue;
    const written = otherwise?.(text) ?? Number.NaN;
    if (written >= low && written <= high) {
      values[k] = written;
      continue;
    }
    const broken = Number.isNaN(value) ? "not-a-number" : rule;
    log.add(table.line(row), table.header[column], text, broken, "set-aside");
  }
  return values;
}

/**
 * One column of words as codes into `words`, written into `values`, through the declared list or, without one, the words
 * themselves. What is empty becomes `otherwise`; what is not declared is listed and becomes it too.
 */
export function readWords<Word extends string>(
  { table, log, rows, missing }: CellContext,
  column: number,
  words: readonly Word[],
  declared: Readonly<Record<string, Word>> | undefined,
  otherwise: number,
  values: Uint8Array,
): Uint8Array {
  const list = new Map<string, Word>(
    declared === undefined ? words.map((word) => [word, word]) : Object.entries(declared),
  );
  const { codes, labels } = table.coded(column);
  const wordOf = labels.map((label) => {
    if (label === "" || missing.has(label)) return otherwise;
    const word = list.get(label);
    return word === undefined ? -1 : words.indexOf(word);
  });
  for (let k = 0; k < rows.length; k++) {
    const row = rows[k];
    const word = wordOf[codes[row]];
    values[k] = word < 0 ? otherwise : word;
    if (word < 0) {
      log.add(
        table.line(row),
        table.header[column],
        labels[codes[row]],
        "word-unknown",
        "set-aside",
      );
    }
  }
  return values;
}

/** Cuts to whole numbers where the unit is completed years or months, listing what was cut. */
export function wholeNumbers(
  { table, log, rows }: CellContext,
  column: number,
  values: Float64Array,
  rule: ProblemRule,
  factor = 1,
): Float64Array {
  for (let k = 0; k < values.length; k++) {
    const whole = Math.floor(values[k] * factor + 1e-9);
    if (factor === 1 && whole !== values[k] && !Number.isNaN(values[k])) {
      log.add(
        table.line(rows[k]),
        table.header[column],
        table.text(column, rows[k]),
        rule,
        "altered",
      );
    }
    values[k] = whole;
  }
  return values;
}
