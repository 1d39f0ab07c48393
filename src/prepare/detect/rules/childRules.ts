import { isYearsAndMonths, share } from "../cellForms.js";

import { aChild } from "../nameWords.js";

import {
  always,
  few,
  isPerson,
  isPrescribing,
  notNumbers,
  numeric,
  paddedCodes,
  repeats,
  words as oneOf,
} from "../ruleFits.js";
import { understoodAs } from "../understood.js";
import * as words from "../vocabulary/index.js";
import { anyOf, wordPattern } from "../vocabulary/index.js";
import { ageUnitOf, attemptOf, eyeReader, sexWord, wordsAlike } from "../wordLists.js";

import { type RoleRule, another, counts, isYesNo, relatives } from "./ruleWords.js";

const prescribed = anyOf(words.prescribed);

const ofGlasses = understoodAs(words.glasses, words.prescribed, words.refraction, words.decision);

/** Of who it is and who measured, and how often. */
export const childRules: readonly RoleRule[] = [
  {
    is: "device-serial",
    unless: aChild,
    name: new RegExp(`${wordPattern(words.serial)}|^s ?n$`),
    fits: always,
  },
  {
    is: "examiner",
    name: new RegExp(`${wordPattern(words.examiner)}|\\bby$|^op$`),
    unless: new RegExp(
      `\\b(referred|sent) by\\b|\\btype\\b|${another}|${wordPattern(words.diagnosis, words.decision, words.instrument, words.refraction)}`,
    ),
    // one for each row would be the child's
    fits: (facts) =>
      (notNumbers(facts) || paddedCodes(facts)) &&
      !isYesNo(facts) &&
      !(facts.filled >= 20 && facts.cells.size > 0.8 * facts.filled),
  },
  {
    // persons, whatever the name of the column says
    is: "examiner",
    name: /^/,
    unless: /\b(comments?|remarks?|notes?)\b/,
    fits: (facts) => repeats(facts) && share(facts, isPerson) > 0.7,
  },
  {
    is: "glasses-prescribed",
    name: anyOf(words.glasses),
    unless: new RegExp(relatives),
    fits: (facts) =>
      isYesNo(facts) &&
      ofGlasses(facts) &&
      (prescribed.test(facts.words) ||
        /(glasses|gls|spec\w*) rx$/.test(facts.words) ||
        share(facts, isPrescribing) >= 0.5),
  },
  {
    is: "eye",
    name: /^(eye|side|laterality|lat|auge|oeil|ojo|olho|occhio|oog|oga|oye|ojet|oyet|ogat|oko|goz|mata|silma|seite|lado|lato|cote|zijde|yan|which eye|eye tested|eye side|eye code|tested eye|od os|os od|r l|l r|od oi|od oe|od og|eye measured|measured eye|lateralite|lateralidad|lateralidade|lateralita)$/,
    fits: (facts) => oneOf(eyeReader(facts.cells), 0.9, 8)(facts),
  },
  {
    is: "age-unit",
    name: new RegExp(
      `\\b(unit|units|einheit|unite|unidad|unidade|unita|eenheid|enhet|enhed|jednostka|birim|satuan)\\b|${anyOf(words.age).source}`,
    ),
    fits: oneOf(ageUnitOf, 0.9, 8),
  },
  {
    is: "age",
    name: anyOf(words.age),
    unless: new RegExp(
      `\\b(group|band|gestational|class|first|onset|device|glasses|started)\\b|${relatives}`,
    ),
    fits: (facts) => numeric(0, 1440, 0.7)(facts) || share(facts, isYearsAndMonths) > 0.7,
  },
  {
    is: "age",
    name: /^((in )?(years|yrs|months|mths|mos)|(years|yrs|months|mths) old|meses|mesi|mois|monate|maanden|maneder|manader|miesiace|ay|bulan|jahre|anos|anni|jaren|lata|tahun)$/,
    fits: numeric(0, 1440, 0.7),
  },
  {
    is: "sex",
    name: anyOf(words.sex),
    // a letter each, in any language
    fits: (facts) =>
      few(6)(facts) &&
      (share(facts, (text) => sexWord.test(wordsAlike(text))) > 0.8 ||
        (few(4)(facts) && share(facts, (text) => /^\p{L}$/u.test(text)) === 1)),
  },
  { is: "attempt", name: /\b(attempt|try|versuch)\b/, fits: oneOf(attemptOf) },
  {
    is: "repeat",
    name: new RegExp(
      `${wordPattern(words.repeatWords)}( (no|nr|n|num|number|ke|\u00b0))?$|^(no|nr|n|num|numero|number|mess) (de |da |du |della )?${wordPattern(words.repeatWords)}$`,
    ),
    unless: counts,
    fits: (facts) =>
      facts.numbers.share > 0.95 &&
      facts.numbers.whole === 1 &&
      facts.numbers.low >= 1 &&
      facts.numbers.high <= 30 &&
      facts.cells.size <= 20,
  },
];
