import type { CodedTable } from "../../cohort/index.js";
import { isNotation, twoEyesIn } from "../../refraction/index.js";
import { type HeaderWords, headerWords } from "./headerWords.js";

/** What the cells of a column are, counted over the whole column. */
export interface ColumnFacts extends HeaderWords {
  readonly column: string;
  readonly rows: number;
  /** Cells that are not empty. */
  readonly filled: number;
  /** The distinct cells that are not empty, and how often each stands there. */
  readonly cells: ReadonlyMap<string, number>;
  readonly numbers: NumberFacts;
  /** Share of the filled cells in clinic notation: more than one number, or a word for none. */
  readonly notation: number;
  /** Whether most cells hold two prescriptions, each with the mark of its eye or not. */
  readonly twoEyes: "marked" | "ordered" | null;
}

/** Of the numbers, without those that can only be codes for nothing (`codesAmong`). */
interface NumberFacts {
  /** Share of the filled cells that are numbers, such codes among them. */
  readonly share: number;
  /** Share of the numbers that are whole. */
  readonly whole: number;
  readonly low: number;
  readonly high: number;
  /** The middle of the distinct numbers, weighed by how often they stand there. */
  readonly middle: number;
  readonly negative: number;
  readonly positive: number;
  /** Cells with a decimal comma, and with a point. */
  readonly comma: number;
  readonly point: number;
  /** Decimals as written, up to which a column in years and months goes: 0 to 11. */
  readonly decimals: ReadonlySet<string>;
  readonly zeros: boolean;
}

const number = /^[+-]?\d*\.?\d+$|^[+-]?\d+\.$/;

/** What stands behind a number: degrees, dioptres, millimetres. */
const unitBehind = /(?<=\d) ?(?:[\u00b0\u00ba]|deg\.?|dpt\.?|dptr\.?|d|ds|dc|mm|%)$/i;

/** A cell as a number, whichever decimal mark it has and with its unit behind; NaN for anything else. */
export function plainNumber(text: string): number {
  if (number.test(text)) return Number(text);
  const plain = numberText(text);
  return number.test(plain) ? Number(plain) : Number.NaN;
}

/** A number as every reader takes it: a plain minus, a decimal point, no unit. */
export function numberText(text: string): string {
  const first = text.charCodeAt(text.length - 1);
  // most cells are plain numbers, and stay as they are
  const bare = first >= 48 && first <= 57 ? text : text.replace(unitBehind, "");
  return bare
    .replace(/[\u2212\u2013]/, "-")
    .replace(/^([+-]) +/, "$1")
    .replace(",", ".");
}

export function columnFacts(table: CodedTable, at: number): ColumnFacts {
  const { codes, labels } = table.columns[at];
  const counts = new Int32Array(labels.length);
  for (const code of codes) counts[code]++;
  const words = new Map<string, number>();
  let filled = 0;
  labels.forEach((label, code) => {
    if (label === "" || counts[code] === 0) return;
    words.set(label, (words.get(label) ?? 0) + counts[code]);
    filled += counts[code];
  });
  const name = table.header[at];
  return {
    column: name,
    ...headerWords(name),
    rows: table.n,
    filled,
    cells: words,
    numbers: numberFacts(words, filled),
    notation: notationShare(words),
    twoEyes: twoEyesOf(words),
  };
}

function numberFacts(words: ReadonlyMap<string, number>, filled: number): NumberFacts {
  let [count, whole, negative, positive, comma, point] = [0, 0, 0, 0, 0, 0];
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  let zeros = false;
  const decimals = new Set<string>();
  const values: number[] = [];
  const times: number[] = [];
  const codes = codesAmong(words);
  let coded = 0;
  for (const [text, often] of words) {
    const value = plainNumber(text);
    if (Number.isNaN(value)) continue;
    if (codes.has(value)) {
      coded += often;
      continue;
    }
    count += often;
    values.push(value);
    times.push(often);
    if (Number.isInteger(value)) whole += often;
    if (value < 0) negative += often;
    if (value > 0) positive += often;
    if (text.includes(",")) comma += often;
    if (text.includes(".")) point += often;
    if (decimals.size < 200) decimals.add(/[.,](\d+)/.exec(text)?.[1] ?? "");
    zeros ||= /^0\d/.test(text);
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  const middle = middleOf(values, times, count);
  const share = filled === 0 ? 0 : (count + coded) / filled;
  return {
    ...{ share, whole: count === 0 ? 0 : whole / count, low, high, middle },
    ...{ negative, positive, comma, point, decimals, zeros },
  };
}

/** Numbers such as -9 or 999 that stand for nothing: the only ones below zero, or far above all others. */
function codesAmong(words: ReadonlyMap<string, number>): ReadonlySet<number> {
  const like = new Set<number>();
  for (const text of words.keys()) {
    if (/^-?(9+|8{2,})(\.(0+|9+|8+))?$/.test(text)) like.add(Number(text));
  }
  if (like.size === 0) return like;
  let [low, high] = [Number.POSITIVE_INFINITY, 0];
  for (const text of words.keys()) {
    const value = plainNumber(text);
    if (Number.isNaN(value) || like.has(value)) continue;
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  const far = (value: number) => (value < 0 ? low >= 0 : value >= 88 && value > 3 * high);
  return new Set([...like].filter((value) => high > 0 && far(value)));
}

/** The middle of numbers that stand there so often each; distinct ones, as of ids, are sorted as they are. */
function middleOf(values: readonly number[], times: readonly number[], count: number): number {
  if (count === values.length) {
    return Float64Array.from(values).sort()[Math.floor((count - 1) / 2)] ?? Number.NaN;
  }
  const order = Uint32Array.from(values.keys()).sort((one, other) => values[one] - values[other]);
  let before = 0;
  for (const at of order) {
    before += times[at];
    if (before >= count / 2) return values[at];
  }
  return Number.NaN;
}

/** As with notation; cells that mark one eye, or say nothing, may stand between. */
function twoEyesOf(words: ReadonlyMap<string, number>): ColumnFacts["twoEyes"] {
  let looked = 0;
  const found = { marked: 0, ordered: 0 };
  for (const [text, times] of words) {
    if (looked > 3000) break;
    // a word for nothing says nothing of the form
    if (!/\d|pl/i.test(text) || !Number.isNaN(plainNumber(text))) continue;
    looked += times;
    const how = twoEyesIn(text);
    if (how !== null) found[how] += times;
  }
  if (found.marked > looked / 2) return "marked";
  return found.ordered > looked / 2 ? "ordered" : null;
}

/** Of the first distinct words only: a column of notation begins with some. */
function notationShare(words: ReadonlyMap<string, number>): number {
  let [looked, found] = [0, 0];
  for (const [text, times] of words) {
    if (looked > 3000) break;
    if (!Number.isNaN(plainNumber(text))) continue;
    looked += times;
    if (isNotation(text)) found += times;
  }
  return looked === 0 ? 0 : found / looked;
}
