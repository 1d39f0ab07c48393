import { type IdentifierKind, kindOfHeader, looksLikeNames } from "../../privacy/index.js";
import { firstCells, holdsPowers, isDecision, share } from "./cellForms.js";
import type { ColumnFacts } from "./columnFacts.js";
import { kindsOfCells } from "./kindsOfCells.js";
import { aChild, nameWords } from "./nameWords.js";
import * as words from "./vocabulary/index.js";
import { anyOf, wordPattern } from "./vocabulary/index.js";
import { isDisorder, isHealthy } from "./disorders.js";
import { isOfAnother } from "./ofAnother.js";
import { rules } from "./roleRules.js";
import type { Role } from "./roles.js";
import {
  cycloplegiaOf,
  decisionOf,
  isBlankMark,
  methodOf,
  sexWord,
  wordsAlike,
} from "./wordLists.js";

/** Words that are of one kind only, whatever the column's name. */
function roleByWords(facts: ColumnFacts): Role | null {
  if (facts.cells.size < 2) return null;
  const disorders = share(facts, (text) => isDisorder(text));
  const healthy = share(facts, (text) => isHealthy(text));
  if (disorders > 0.5 || (disorders > 0.2 && disorders + healthy > 0.8)) return "diagnosis";
  if (facts.cells.size > 10) return null;
  const cells = [...facts.cells.keys()].map(wordsAlike);
  const has = (pattern: RegExp) => cells.some((word) => pattern.test(word));
  const sexes = cells.every((word) => sexWord.test(word) || isBlankMark(word));
  if (
    sexes &&
    has(/^(m|male|boy)$|^masc|^hombre$|^junge$|^menino$|^garcon$|^jongen$|^maschio$/) &&
    has(/^(f|female|girl)$|^fem|^mujer$|^madchen$|^menina$|^fille$|^meisje$/)
  )
    return "sex";
  const drug = /[csz]i?y?[ck]k?lopent|atropin|tropicam|[csz]i?y?[ck]k?lopl[eé]g/;
  if (has(drug) && cells.every((word) => cycloplegiaOf(word) !== null || isBlankMark(word)))
    return "cycloplegia";
  if (
    has(/retinos[ck]op|s[ck]h?ias[ck]op|autoref/) &&
    cells.every((word) => methodOf(word) !== null)
  )
    return "method";
  return null;
}

/** What no analysis reads, whose cells say what one does: a drug, a method, who was referred. */
function contradicts(facts: ColumnFacts, is: Role): boolean {
  if (is !== "other" && is !== "free-text" && is !== "site" && is !== "examiner") return false;
  const told = roleByWords(facts);
  if (told === "diagnosis" && is !== "free-text") return true;
  if (told === "cycloplegia" || told === "method") return true;
  const said = new Set([...facts.cells.keys()].map(decisionOf));
  return facts.cells.size <= 6 && isDecision(facts) && said.has("refer") && said.has("pass");
}

/** The role by the name and the cells of one column alone; `null` where nothing is known. */
export function roleOf(facts: ColumnFacts): Role | null {
  const found = rules.find(
    ({ is, name, unless, fits }) =>
      name.test(facts.bare) &&
      !(unless?.test(facts.bare) ?? false) &&
      facts.filled > 0 &&
      fits(facts) &&
      !isOfAnother(facts, is),
  );
  if (found !== undefined) return contradicts(facts, found.is) ? null : found.is;
  const headerKind = kindOfHeader(facts.column) ?? kindOfName(facts);
  // "serial of the child" is a device's to a list of words only
  const denied =
    (headerKind === "device-serial" && aChild.test(facts.words)) ||
    (headerKind === "name" && (!couldBeNames(facts) || /\bgroup\b/.test(facts.words)));
  const named = denied ? null : headerKind;
  // a column without a cell tells by its name alone
  if (facts.filled === 0) {
    const byName = rules.find(
      ({ name, unless }) =>
        name.source !== "^" && name.test(facts.bare) && !(unless?.test(facts.bare) ?? false),
    );
    return byName?.is ?? (named === null ? "other" : roleOfKind(named));
  }
  if (named === "name" && isOfNobody(facts)) return isOfTester(facts) ? "examiner" : null;
  const cells = kindsOfCells(facts);
  const text = named === "free-text" || (named === null && cells === "free-text");
  if (text && holdsPowers(facts)) return null;
  if (named !== null && named !== "date") return roleOfKind(named);
  if (cells !== null && cells !== "date") return roleOfKind(cells);
  const byWords = roleByWords(facts);
  if (byWords !== null) return isOfAnother(facts, byWords) ? null : byWords;
  // capitalised words that repeat can be schools as well
  const repeated = facts.cells.size <= facts.filled / 3;
  if (!repeated && looksLikeNames(firstCells(facts, 5000))) return "name";
  return null;
}

const kindWords = {
  "e-mail": anyOf(words.email),
  phone: anyOf(words.phone),
  "postal-code": anyOf(words.postalCode),
  "record-number": anyOf(words.nationalNumber),
  address: anyOf(words.address),
} as const;

/** What a name announces of a person in any language, where the cells are written so. */
function kindOfName(facts: ColumnFacts): IdentifierKind | null {
  const digits = (least: number) =>
    share(facts, (text) => text.replace(/\D/g, "").length >= least && !/\d[.,]\d/.test(text)) > 0.6;
  const fits = {
    "e-mail": () => share(facts, (text) => text.includes("@")) > 0.6,
    phone: () => digits(6),
    "postal-code": () => digits(3),
    "record-number": () => digits(6),
    address: () => share(facts, (text) => /\p{L}{3}/u.test(text)) > 0.6 && facts.cells.size > 2,
  };
  for (const [kind, pattern] of Object.entries(kindWords)) {
    const known = kind as keyof typeof kindWords;
    if (pattern.test(facts.words) && (facts.filled === 0 || fits[known]())) return known;
  }
  return nameWords.test(facts.words) ? "name" : null;
}

const profession = /\b(od|md|rn|np|lpn|coa|cot)\b/;
const aName = new RegExp(
  `${wordPattern(words.named)}|\\b(full|initials|of|the|in|cap|capital|letters)\\b`,
  "g",
);

/** "OD name" where few are named; initials of a few in many rows each. */
function isOfTester(facts: ColumnFacts): boolean {
  const initials = share(facts, (text) => /^\p{Lu}\.?\p{Lu}{1,2}\.?$/u.test(text)) > 0.9;
  return facts.cells.size <= facts.filled / 3 && (profession.test(facts.words) || initials);
}

/**
 * A name that does not say whose: of a profession, which "OD" is and the mark of an eye as well, or a few that stand in
 * many rows each, as those of testers do and those of children do not. First and family names are a child's: few of
 * them may stand for many children.
 */
function isOfNobody({ words: name, cells, filled }: ColumnFacts): boolean {
  if (profession.test(name)) return true;
  return name.replace(aName, "").trim() === "" && filled >= 16 && cells.size <= filled / 8;
}

/** Names are words, and of more than two people where many are named. */
function couldBeNames({ numbers, cells, filled }: ColumnFacts): boolean {
  return filled === 0 || (numbers.share < 0.5 && (cells.size > 2 || filled <= 6));
}

function roleOfKind(kind: IdentifierKind): Role {
  switch (kind) {
    case "date":
      return "other-date";
    case "ip-address":
      return "url";
    case "age-over-89":
      return "age";
    case "unique-code":
      return "record-number";
    default:
      return kind;
  }
}
