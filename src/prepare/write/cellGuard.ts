import { kindOfCell } from "../../privacy/index.js";
import { eyesOfCell, isWholePrescription } from "../../refraction/index.js";
import { isAcuity } from "../detect/cellForms.js";
import { numberText, plainNumber } from "../detect/columnFacts.js";
import type { DetectedColumn } from "../detect/detected.js";
import { couldBePeople, isOfSight } from "../detect/disorders.js";
import { rangeOf } from "../detect/ranges.js";
import type { Role } from "../detect/roles.js";
import {
  decisionOf,
  decisionWord,
  eyeReader,
  isBlankMark,
  sexWord,
  statusOf,
  wordsAlike,
  yesNoOf,
} from "../detect/wordLists.js";
import { codesOf } from "../mapping/wordCodes.js";

const identifying: ReadonlySet<Role> = new Set([
  ...["name", "address", "postal-code", "phone", "e-mail", "record-number", "url", "examiner"],
  "device-serial",
] as Role[]);
/** Names of sites and remarks are compared as a whole: their words are words of other columns, too. */
const wholeOnly: ReadonlySet<Role> = new Set(["subject", "site", "free-text"]);

/** Whose cells are written in one way, as long as it is no way of anything else. */
const numbersChildren: ReadonlySet<Role> = new Set(["subject", "record-number", "unknown"]);

/** Cells that say who a child is, of all files, to be found where they do not belong. */
export interface Identifiers {
  readonly whole: ReadonlySet<string>;
  readonly words: ReadonlySet<string>;
  /** How the ids are written, "aa99999": an id of a child whose own row is not in the files is written so, too. */
  readonly forms: ReadonlySet<string>;
}

export function identifiersOf(columns: readonly DetectedColumn[]): Identifiers {
  const whole = new Set<string>();
  const words = new Set<string>();
  const forms = new Set<string>();
  for (const { is, facts } of columns) {
    const identifies = identifying.has(is) || wholeOnly.has(is);
    if (!identifies && !numbersChildren.has(is)) continue;
    if (numbersChildren.has(is))
      for (const form of tellingForms([...facts.cells.keys()])) forms.add(form);
    for (const text of facts.cells.keys()) {
      if (isBlankMark(text)) continue;
      if (identifies) whole.add(text.toLowerCase());
      if (identifying.has(is)) for (const word of wordsIn(text)) words.add(word);
    }
  }
  return { whole, words, forms };
}

const formOf = (text: string): string => text.replace(/\p{L}/gu, "a").replace(/\d/g, "9");

/**
 * A form of letters and at least three digits, or of two groups of digits that are no date and no fraction; numbers and
 * short codes have the form of anything.
 */
const isTellingForm = (form: string): boolean =>
  (/a/.test(form) && /9.*9.*9/.test(form)) || (/^9+[-./]9+$/.test(form) && /[-/]9{4}/.test(form));

/** The forms of these ids that tell, and the one that most of them have if it is of letters and digits. */
function tellingForms(ids: readonly string[]): string[] {
  const times = new Map<string, number>();
  for (const id of ids) times.set(formOf(id), (times.get(formOf(id)) ?? 0) + 1);
  const isCommon = (form: string) =>
    form.length >= 4 && /a/.test(form) && /9/.test(form) && times.get(form)! > ids.length / 2;
  return [...times.keys()].filter((form) => isTellingForm(form) || isCommon(form));
}

function wordsIn(text: string): string[] {
  return text
    .toLowerCase()
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word.length >= 3);
}

const isLongNumber = (text: string): boolean => text.replace(/\D/g, "").length >= 7;

/**
 * Whether a part of a cell is somebody's, although the rest is a word of the column ("Refer", and who): it stands in
 * a column of identifiers, or is written as an id, a date, a name or a number of a phone is.
 */
export function holdsAnother(
  column: DetectedColumn,
  text: string,
  times: number,
  identifiers: Identifiers,
): boolean {
  const parts = text.split(/[\s,;|()]+/).filter((part) => part !== "");
  const isId = (part: string) =>
    /\d/.test(part) &&
    ((part.length >= 4 && identifiers.whole.has(part.toLowerCase())) ||
      identifiers.forms.has(formOf(part)));
  const isOther = (part: string) => kindOfCell(part) !== null || isLongNumber(part);
  const notation = column.is === "prescription" && isNotationOnly(column, text);
  if (runsOf(parts).some((part) => isId(part) || (!notation && isOther(part)))) return true;
  if (parts.length === 1 || times >= 3) return false;
  return (
    wordsIn(text).some((word) => identifiers.words.has(word)) || addsName(column, parts, times)
  );
}

/** Parts of a cell by themselves and up to four in a row, as a date and an id are written. */
const runsOf = (parts: readonly string[]): string[] =>
  parts.flatMap((_, from) =>
    parts.slice(from, from + 4).map((_, more) => parts.slice(from, from + 1 + more).join(" ")),
  );

const readAsPower: ReadonlySet<Role> = new Set(["prescription", "acuity"]);
const keepsNames: ReadonlySet<Role> = new Set(["diagnosis", "instrument", "prescription"]);

/** Whether a cell is a word of its column and a name beside it: "Pass", and the child's or the village's. */
function addsName(column: DetectedColumn, parts: readonly string[], times: number): boolean {
  if (keepsNames.has(column.is)) return false;
  const { cells } = column.facts;
  const isOwn = (text: string) =>
    (cells.get(text) ?? 0) > times || isKnownWord(column, text) || yesNoOf(text) !== null;
  return parts.slice(1).some((_, at) => {
    const [head, tail] = [parts.slice(0, at + 1), parts.slice(at + 1)];
    const named = (words: readonly string[]) => words.every((word) => isName(column, word));
    return (named(tail) && isOwn(head.join(" "))) || (named(head) && isOwn(tail.join(" ")));
  });
}

/** By the beginning of a word: "ok" stands in many a name. */
const ofDecision = new RegExp(`\\b(?:un|non|non )?(?:${decisionWord.source})`);
const isOfDecision = (text: string): boolean =>
  decisionOf(text) !== null || ofDecision.test(wordsAlike(text));

/** A number of four digits, or a capitalised word that is none of eyes and of decisions, in no other cell of its column. */
function isName({ facts: { cells } }: DetectedColumn, word: string): boolean {
  const isNumber = isTellingForm(formOf(word)) || /^\d{4,}$/.test(word);
  const isWord = /^\p{Lu}(\p{Ll}+|\p{Lu}{3,})$/u.test(word);
  const isKnown = isOfSight(word) || isOfDecision(word);
  if (!isNumber && (!isWord || isKnown)) return false;
  if (cells.size > 200) return true;
  const holding = [...cells.keys()].filter((text) => text.split(/[\s,;|()]+/).includes(word));
  return holding.length === 1;
}

function isNotationOnly(column: DetectedColumn, text: string): boolean {
  if (isWholePrescription(text)) return true;
  if (column.eyes === null) return false;
  const parts = eyesOfCell(text, column.eyes);
  return (
    parts.fault === undefined &&
    [parts.right, parts.left].every((part) => part === "" || isWholePrescription(part))
  );
}

const notationWords =
  /sphere|sph|cylinder|cyl|axis|ax|plano|plan|pl|degrees|deg|dptr|dpt|ds|dc|d|s|c|x|add|\bto\b/g;

/**
 * A cell as it goes into the study file, or null where it is left empty: a word that is none of its column's
 * and could be a person's, or what stands in a column of identifiers.
 */
export function keptCell(
  column: DetectedColumn,
  text: string,
  times: number,
  identifiers: Identifiers,
): string | null {
  const { is } = column;
  const value = plainNumber(text);
  const range = rangeOf(is);
  if (is === "age" && value > (column.unit === "months" ? 1079 : 89)) return null;
  if (!Number.isNaN(value)) {
    const inside = range !== undefined && value >= range[0] && value <= range[1];
    if (!inside && text.length >= 3 && identifiers.whole.has(text.toLowerCase())) return null;
    if (!inside && kindOfCell(text) !== null) return null;
    // nothing that is measured is a whole number of seven digits, also one that begins with noughts
    if (isLongNumber(text) && (!inside || !/[.,]/.test(text))) return null;
    if (range !== undefined) return numberText(text);
    return is === "other" ? text.replace(/^([+-]?\d+),(\d+)$/, "$1.$2") : text;
  }
  if (isKnownWord(column, text) && !holdsAnother(column, text, times, identifiers))
    return range === undefined ? text : text.replace(/(\d),(\d)/, "$1.$2");
  if (identifiers.whole.has(text.toLowerCase()) || identifiers.forms.has(formOf(text))) return null;
  if (wordsIn(text).some((word) => identifiers.words.has(word))) return null;
  if (kindOfCell(text) !== null || holdsAnother(column, text, times, identifiers)) return null;
  if (!/\p{L}/u.test(text)) {
    // no measurement has four digits in a row
    const isNumberOfRecord = (range !== undefined || readAsPower.has(is)) && /\d{4}/.test(text);
    return text.length <= 8 && !isNumberOfRecord ? text : null;
  }
  // names under "Gender" or "Sphere", however many children share one
  if (hasOwnWords(column) && holdsPeople(column)) return null;
  // a code of the ICD is written much as a number of a record is
  const isRecord = isTellingForm(formOf(text)) && !/^\p{Lu}\d\d(\.\d{1,3})?$/u.test(text);
  if (is === "diagnosis" && isRecord && times < 3) return null;
  const keepsRare = is === "diagnosis" || is === "decision" || is === "instrument";
  // two capitalised words are a name, whatever the column was said to be
  const likeName = /^\p{Lu}\p{L}+([ -]\p{Lu}[\p{L}.]*)+$/u.test(text);
  if (likeName && (!keepsRare || times < 3)) return null;
  // a word alone that is none of a decision's could be a name
  const rare = keepsRare && (is !== "decision" || times >= 3 || /^\p{Ll}|\s/u.test(text));
  // a single letter is a code
  return rare || times >= 3 || text.length === 1 ? text : null;
}

const ofOneKind: ReadonlySet<Role> = new Set(["sex", "eye", "decision"]);
/** Columns of numbers, and of words of which a list is known. */
const hasOwnWords = (column: DetectedColumn): boolean =>
  ofOneKind.has(column.is) ||
  readAsPower.has(column.is) ||
  rangeOf(column.is) !== undefined ||
  codesOf(column) !== null;

const peopleIn = new WeakMap<DetectedColumn, boolean>();
/** Every cell of a column asks, so it is looked at once. */
function holdsPeople(column: DetectedColumn): boolean {
  const known = peopleIn.get(column) ?? couldBePeople(column.facts);
  peopleIn.set(column, known);
  return known;
}

/** Whether a word is one that columns of this role have, and so nobody's. */
export function isKnownWord(column: DetectedColumn, text: string): boolean {
  const { is } = column;
  if (isBlankMark(text)) return true;
  if (is === "eye") return eyeReader(column.facts.cells)(text) !== null;
  if (is === "sex") return sexWord.test(wordsAlike(text));
  if (is === "decision") return yesNoOf(text) !== null || (text.length < 20 && isOfDecision(text));
  if (is === "acuity") return isAcuity(text);
  const codes = codesOf(column);
  if (codes !== null) return Object.hasOwn(codes, text);
  if (is === "prescription" && column.eyes !== null) {
    const parts = eyesOfCell(text, column.eyes);
    if (parts.fault === undefined) {
      const one = { ...column, eyes: null };
      return [parts.right, parts.left].every((part) => part === "" || isKnownWord(one, part));
    }
  }
  if (is === "prescription" && isWholePrescription(text)) return true;
  if (is === "prescription" && text.length <= 40) {
    const rest = text.toLowerCase().replace(notationWords, "");
    if (!/\p{L}/u.test(rest) && !/\d{4}/.test(rest)) return true;
  }
  return rangeOf(is) !== undefined || is === "prescription"
    ? statusOf(text) !== null && text.length < 30
    : false;
}
