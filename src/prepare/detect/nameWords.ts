import type { ColumnFacts } from "./columnFacts.js";
import * as words from "./vocabulary/index.js";
import { anyOf, wordPattern } from "./vocabulary/index.js";

// Words of the names of columns; common practice, no source.

export const nameWords = new RegExp(
  `${wordPattern(words.named, words.person)}|^(first|last|given|family|middle)$`,
);
export const dateWords = anyOf(words.dateOf, words.birth);
export const birthWords = anyOf(words.birth);
export const otherDateWords = anyOf(words.otherDate);

/** Words of dates that can be the measurement's or another's: a check is made, or still to come. */
export const eitherDateWords =
  /\b(controll?[eo]?|kontroll?[ae]?|follow|next|appointment|referral|referred|entered|entry|booked|report\w*|registered|registration|enrol\w*)\b/;

/** Of a date that is still to come. */
export const nextWords =
  /\b(next|prox\w*|prochain\w*|nachst\w*|prossim\w*|volgende?|neste|nasta|naeste|nastepn\w*|sonraki|berikutnya|wiedervorst\w*|follow|review|recall)\b/;

/** Whether a name says date itself: a number of a visit is none. */
export function saysDate({ words: name }: ColumnFacts): boolean {
  return (
    /\b(date|dt|dttm|dat|datum|dato|data|fecha|fec|tarih\w*|tanggal|tgl)\b/.test(name) ||
    birthWords.test(name)
  );
}

export function mayBeDate(facts: ColumnFacts): boolean {
  return dateWords.test(facts.words) || otherDateWords.test(facts.words);
}

/** Words of the quantities of a refraction: a number under one of them is nobody's id. */
export const powerWords = anyOf(words.sphere, words.cylinder, words.axis, {
  any: "equiv* aequiv* mse seq",
});

/** Words of the date at which something was measured. */
export const measuredDateWords = anyOf(words.measuredOn);

/** Of the words that name a child's number. */
export const idWords = anyOf(words.idOf);
export const aChild = /\b(child|kid|pupil|student|patient|participant|person|subject)\b/;
export const childWords = anyOf(words.child);
