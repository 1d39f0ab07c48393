/**
 * The kinds of identifier that a table can hold: the list of the US Safe Harbor rule
 * (45 CFR 164.514(b)(2)), an example; other laws differ.
 *
 * @example
 * identifierKinds.includes("date") // => true
 */
export const identifierKinds = [
  "name",
  "address",
  "postal-code",
  "date",
  "phone",
  "e-mail",
  "record-number",
  "device-serial",
  "url",
  "ip-address",
  "age-over-89",
  "free-text",
  "unique-code",
] as const;
export type IdentifierKind = (typeof identifierKinds)[number];

/** Words of a column's name, and what they announce. */
const headerWords: readonly (readonly [IdentifierKind, RegExp])[] = [
  [
    "name",
    /^(name|name of (the )?(child|patient|pupil|student)|(first|last|middle|given|family|full|sur|child|patient|parent|mother|father|guardian|teacher) ?name|forename|surname|initials)$/,
  ],
  ["address", /\b(address|street|road|house number|town|city|village|county|district)\b/],
  ["postal-code", /\b(zip|zip ?code|post ?code|postal code|postal|plz)\b/],
  ["date", /\b(dob|d o b|birth ?date|date of birth|birthday)\b/],
  ["phone", /\b(phone|telephone|mobile|cell ?phone|fax)\b/],
  ["e-mail", /\be ?mail\b/],
  [
    "record-number",
    /\b(mrn|record number|medical record|chart number|account|insurance|policy number|social security|ssn|national id|passport|licen[cs]e number|certificate)\b/,
  ],
  ["device-serial", /\b(serial|serial number|serial no|device id|imei|mac address)\b/],
  ["url", /\b(url|web ?site|homepage)\b/],
  ["ip-address", /\bip( address)?\b/],
  ["free-text", /\b(comments?|remarks?|notes?|free text)\b/],
];

const compactDate = /^(19|20)\d\d(0[1-9]|1[0-2])(0[1-9]|[12]\d|3[01])$/;
const month = "(jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*";
const octet = "(25[0-5]|2[0-4]\\d|1?\\d?\\d)";

/** What a whole cell looks like. A year alone is no date, a range of years no phone number. */
const cellPatterns: readonly (readonly [IdentifierKind, RegExp])[] = [
  ["e-mail", /[^\s@]+@[^\s@]+\.[a-z]{2,}/i],
  ["url", /\b(https?:\/\/|www\.)\S+/i],
  ["ip-address", new RegExp(`^${octet}(\\.${octet}){3}$`)],
  ["ip-address", /^([0-9a-f]{1,4}:){7}[0-9a-f]{1,4}$/i],
  ["device-serial", /^([0-9a-f]{2}[:-]){5}[0-9a-f]{2}$/i],
  ["date", /^(19|20)\d\d[-/.](0?[1-9]|1[0-2])([-/.](0?[1-9]|[12]\d|3[01]))?([T ].*)?$/],
  ["date", /^(0?[1-9]|[12]\d|3[01])[-/.](0?[1-9]|[12]\d|3[01])[-/.](19|20)?\d\d([T ].*)?$/],
  ["date", /^(0?[1-9]|1[0-2])[-/](19|20)\d\d$|^(19|20)\d\d-W\d\d(-\d)?$/],
  ["date", new RegExp(`^(\\d{1,2}\\.? )?${month}\\.?,? (\\d{1,2},? )?(19|20)\\d\\d$`, "i")],
  ["date", new RegExp(`^(\\d{1,2}-)?${month}-(19|20)?\\d\\d([T ].*)?$`, "i")],
  ["record-number", /^\d{3}-\d{2}-\d{4}$/],
  ["phone", /^\+\d[\d ()/-]{6,}$/],
  ["phone", /^\(?\d{2,5}\)?[ /-]\d{3,4}[ -]\d{3,}$/],
  ["postal-code", /^[A-Z]{1,2}\d[A-Z\d]? \d[A-Z]{2}$/],
  ["postal-code", /^[A-Z]\d[A-Z] ?\d[A-Z]\d$/],
  ["postal-code", /^\d{5}-\d{4}$/],
  ["address", /^\d+[a-z]?,? (\S+ )+(st|street|rd|road|ave|avenue|lane|drive|way|close)\.?$/i],
];

/** The kind that a column's name announces, or null. */
export function kindOfHeader(header: string): IdentifierKind | null {
  const words = header
    .replace(/([a-z])([A-Z])/g, "$1 $2")
    .replace(/[_.-]+/g, " ")
    .trim()
    .toLowerCase();
  return headerWords.find(([, pattern]) => pattern.test(words))?.[0] ?? null;
}

// a pattern written inside a function is made anew at each call
const lettersOrDigits = /^[A-Za-z0-9]+$/;
const letterDigitCode = /^[A-Z]\d[A-Z]\d[A-Z]\d$/;
const decimalNumber = /^[+-]?\d*\.?\d+$/;

/** The kind that a cell looks like, or null. */
export function kindOfCell(text: string): IdentifierKind | null {
  // most cells are short numbers; none of the patterns is that short
  if (text.length < 6) return null;
  // letters and digits alone: codes, most of them subjects, of which there may be a million
  if (lettersOrDigits.test(text)) {
    if (text.length === 8 && compactDate.test(text)) return "date";
    if (text.length === 6 && letterDigitCode.test(text)) return "postal-code";
    return text.length > 60 && /\D/.test(text) ? "free-text" : null;
  }
  if (decimalNumber.test(text)) return null;
  const found = cellPatterns.find(([, pattern]) => pattern.test(text));
  if (found !== undefined) return found[0];
  return text.length > 60 || text.split(/\s+/).length >= 5 ? "free-text" : null;
}

const properName = /^\p{Lu}[\p{Ll}'’]+([ -]\p{Lu}[\p{Ll}'’.]*)+$/u;
const familyNameFirst = /^\p{Lu}[\p{L}'’ -]+, ?\p{Lu}[\p{L}'’. -]*$/u;

/**
 * Whether a column's distinct cells look like names of people: most are two capitalised words, or two
 * with a comma between them.
 */
export function looksLikeNames(distinct: readonly string[]): boolean {
  if (distinct.length < 5) return false;
  let others = 0;
  for (let index = 0; index < distinct.length; index++) {
    const isName = properName.test(distinct[index]) || familyNameFirst.test(distinct[index]);
    if (!isName && ++others >= distinct.length / 2) return false;
  }
  return true;
}
