import type { ProblemLog, ProblemRule } from "../problemLog.js";
import { type CodeWords, codeWords, knownCodes } from "./codeWords.js";
import type { MissingCells } from "./missingCodes.js";
import type { TextTable } from "./textTable.js";

/** What the cells of one part are read with. */
export interface CellContext {
  readonly table: TextTable;
  readonly log: ProblemLog;
  /** The rows of the table that are kept. */
  readonly rows: Int32Array;
  /** What says in a column that nothing is known; the key is what the column holds, such as "sphere". */
  readonly missing: (
    key: string,
    column: number,
    holds: readonly [number, number] | "names" | "anything",
  ) => MissingCells;
  /** Takes a cell that a code for all columns would make missing, and that stays a value. */
  readonly doubt: (column: number, code: number) => void;
}

export interface NumberRule {
  /** What the column holds, such as "sphere". */
  readonly key: string;
  readonly low: number;
  readonly high: number;
  /** Whether the limits are those of this file alone, and any code may stand among the numbers. */
  readonly unbounded?: boolean;
  readonly rule: ProblemRule;
  /** Reads a cell that is no plain number; NaN where it cannot. */
  readonly otherwise?: (text: string) => number;
  /** Cells with these codes are not wrong; they say something else. */
  readonly marks?: CodeWords<unknown>;
  /** Whether a mark that is a number counts where it could be a value of this column. */
  readonly marksFirst?: boolean;
  /** Whether doubtful codes are left to the caller to list. */
  readonly quiet?: boolean;
}

/**
 * One numeric column, written into `values`: NaN where the cell is empty, a missing code or set aside. Cells that are not
 * numbers, or lie outside the limits, are listed and set aside.
 */
export function readNumbers(
  context: CellContext,
  column: number,
  {
    key,
    low,
    high,
    unbounded,
    rule,
    otherwise,
    marks,
    marksFirst = false,
    quiet = false,
  }: NumberRule,
  values: Float64Array = new Float64Array(context.rows.length),
): Float64Array {
  const { table, log, rows } = context;
  const missing = context.missing(key, column, unbounded ? "anything" : [low, high]);
  const numbers = table.numbers(column);
  const within = (code: number) => code >= low && code <= high;
  const doubtful = quiet ? new Set<number>() : missing.doubtful;
  const marked = marksFirst ? [...(marks?.numbers.keys() ?? [])] : [];
  // codes among the possible values are looked for in every cell
  const aside = new Set([...missing.numbers, ...marked].filter(within));
  const plain = aside.size === 0 && doubtful.size === 0;
  for (let k = 0; k < rows.length; k++) {
    const row = rows[k];
    const value = numbers[row];
    if (value >= low && value <= high && (plain || !aside.has(value))) {
      values[k] = value;
      if (!plain && doubtful.has(value)) context.doubt(column, value);
      continue;
    }
    values[k] = Number.NaN;
    if (missing.numbers.has(value) || aside.has(value)) continue;
    const text = table.text(column, row);
    if (text === "" || missing.says(text) || marks?.of(text) !== undefined) continue;
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
 * One column of words as codes into `words`, written into `values`, through the declared codes or, without any, the words
 * themselves. What is empty becomes `otherwise`; what is not declared is listed and becomes it too.
 */
export function readWords<Word extends string>(
  context: CellContext,
  key: string,
  column: number,
  words: readonly Word[],
  declared: Readonly<Record<string, Word>> | undefined,
  otherwise: number,
  values: Uint8Array,
): Uint8Array {
  const { table, log, rows } = context;
  const missing = context.missing(key, column, "anything");
  const list = codeWords(
    declared === undefined ? words.map((word) => [word, word] as const) : Object.entries(declared),
    table.decimal,
  );
  const { codes, labels } = table.coded(column);
  const wordOf = labels.map((label) => {
    const word = list.of(label);
    if (word !== undefined) return words.indexOf(word as Word);
    return label === "" || missing.says(label) ? otherwise : -1;
  });
  for (let k = 0; k < rows.length; k++) {
    const row = rows[k];
    const word = wordOf[codes[row]];
    values[k] = word < 0 ? otherwise : word;
    if (word < 0) {
      const [line, name, text] = [table.line(row), table.header[column], labels[codes[row]]];
      log.add(line, name, text, "word-unknown", "set-aside", knownCodes(list));
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
