// Words of a diagnosis; common practice, no source.
import type { ColumnFacts } from "./columnFacts.js";
import * as words from "./vocabulary/index.js";
import { anyOf } from "./vocabulary/index.js";
import { isBlankMark, wordsAlike } from "./wordLists.js";

/** Disorders of refraction and of sight in any language that took them from Greek, and their codes of the ICD. */
const disorder =
  /^(h ?(49|5[0-5])|q ?1[0-5]|z ?01)[. ]\d|\b(m[iy]+opi|h[iy]?per(m|o|met)|ipermet|astigmat|anisomet|ambl[iy]+op|estrab|strab)/;

const nothingFound =
  /^(normal|none|nad|no abn|sin alt|sans (part|anom)|unauff|o ?b|nessun|ingen|brak|clear|emmetrop|geen afw|nil|healthy|sano|sain|gesund|gezond|sem alt|nella norma)/;

export const isDisorder = (text: string): boolean => disorder.test(wordsAlike(text));
export const isHealthy = (text: string): boolean => nothingFound.test(wordsAlike(text));

const ofSight = anyOf(words.diagnosis, words.strabismus, words.opacity, words.drops, words.glasses);
/** Whether a word is one of eyes or of health in any language. */
export const isOfSight = (text: string): boolean =>
  isDisorder(text) || isHealthy(text) || ofSight.test(wordsAlike(text));

const couldBePerson = (text: string): boolean =>
  // "Surname", "Surname, First", "17 Street Name", "00-2284"
  /^\p{Lu}\p{L}/u.test(text) ||
  /^\d.*\p{L}{3}/u.test(text) ||
  /^(?=(?:\D*\d){4})[\p{L}\d /-]+$/u.test(text);

/**
 * Whether the cells could be of people: capitalised words, addresses or numbers of records, none of them of eyes or of health in
 * any language. A column called "Diagnosis" that holds the names of children, or of where they live, is no diagnosis.
 */
export function couldBePeople({ cells }: ColumnFacts): boolean {
  const all = [...cells.keys()].filter((text) => !isBlankMark(text));
  const ofPeople = all.filter(couldBePerson);
  return all.length > 1 && ofPeople.length > 0.75 * all.length && !all.some(isOfSight);
}
