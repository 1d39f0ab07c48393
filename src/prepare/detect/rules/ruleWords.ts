import type { ColumnFacts } from "../columnFacts.js";

import type { Role } from "../roles.js";
import { words as oneOf } from "../ruleFits.js";

import * as words from "../vocabulary/index.js";
import { anyOf, wordPattern } from "../vocabulary/index.js";
import { yesNoOf } from "../wordLists.js";

/** One way of knowing a role: the words of the name, and what the cells have to be then. */
export interface RoleRule {
  readonly is: Role;
  readonly name: RegExp;
  readonly unless?: RegExp;
  readonly fits: (facts: ColumnFacts) => boolean;
}

export const freeText = anyOf(words.freeText);

/** How many of something. */
export const counts =
  /^(no|number|num|n|nr|nro) (of|de|di|van|von|av|af)\b|\b(count|counts|anzahl|aantal|antal|antall|liczba|sayisi|jumlah|cantidad|quantidade|quantita)\b|\b(hours|hrs|minutes|seconds)\b/;

/** Of a reading itself, and not of the child who was screened. */
export const reading =
  /\b(capture|read|reading|meas|measurement|mess\w*|lectura|leitura|lettura|lecture|medida|mesure|misura|meting|maling|matning|pomiar\w*|olcum)\b/;

export const relatives = wordPattern(words.relatives);

export const isYesNo = oneOf(yesNoOf);

export const identity = /\b(id|ids|no|nr|num|number|code|name|key)\b/;

export const place = anyOf(words.place);

/** What a column could be of besides a place, a person or a decision: then neither of them is taken for granted. */
export const another = wordPattern(words.freeText, words.harmless);
