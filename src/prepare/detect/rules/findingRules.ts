import { couldBePeople } from "../disorders.js";
import { isAcuity, isSnellen, isDecision, share } from "../cellForms.js";
import type { ColumnFacts } from "../columnFacts.js";

import {
  averageLength,
  fewCodes,
  isPrescribing,
  notNumbers,
  notNumeric01,
  words as oneOf,
} from "../ruleFits.js";
import { understoodAs } from "../understood.js";
import * as words from "../vocabulary/index.js";
import { anyOf, wordPattern } from "../vocabulary/index.js";
import {
  correctionOf,
  cycloplegiaOf,
  eyeOf,
  methodOf,
  opacityOf,
  reasonOf,
  statusOf,
  strabismusOf,
} from "../wordLists.js";

import { type RoleRule, isYesNo, reading, relatives } from "./ruleWords.js";

const prescribed = anyOf(words.prescribed);

/** With drops in some rows and without them in others. */
function saysDrops(facts: ColumnFacts): boolean {
  const said = new Set([...facts.cells.keys()].map(cycloplegiaOf));
  return (
    notNumbers(facts) && oneOf(cycloplegiaOf, 0.9)(facts) && said.has("none") && said.has("full")
  );
}

/** A yes or no is one of this thing where its name speaks of nothing else. */
function yesOf(...own: readonly words.Words[]): (facts: ColumnFacts) => boolean {
  const understood = understoodAs(...own);
  return (facts) => !isYesNo(facts) || understood(facts);
}
const yesOfDrops = yesOf(words.drops, words.refraction);
const yesOfWorn = yesOf(words.glasses, words.worn, words.repeatWords);
const yesOfStrabismus = yesOf(words.strabismus, words.diagnosis);
const yesOfOpacity = yesOf(words.opacity);
const yesOfDiagnosis = yesOf(words.diagnosis);
const ofDecision = understoodAs(
  words.decision,
  words.statusWords,
  words.prescribed,
  words.diagnosis,
  words.instrument,
);

/** Of how it was measured, and what was found and decided. */
export const findingRules: readonly RoleRule[] = [
  {
    is: "status",
    name: anyOf(words.statusWords),
    unless: /\bexam\b/,
    // "failed" alone could be the child's
    fits: (facts) =>
      oneOf(statusOf, 0.85)(facts) &&
      (reading.test(facts.words) || facts.eye !== null || !isDecision(facts)),
  },
  {
    is: "cycloplegia",
    name: anyOf(words.drops),
    fits: (facts) => notNumeric01(facts) && oneOf(cycloplegiaOf)(facts) && yesOfDrops(facts),
  },
  {
    is: "correction",
    name: anyOf(words.worn),
    unless: new RegExp(`${prescribed.source}|${relatives}|\\bhearing\\b`),
    // given or needed is said of a prescription, and not of what was worn
    fits: (facts) =>
      oneOf(correctionOf)(facts) && share(facts, isPrescribing) < 0.5 && yesOfWorn(facts),
  },
  {
    is: "method",
    name: anyOf(words.method),
    fits: oneOf(methodOf, 0.75),
  },
  {
    is: "acuity",
    name: anyOf(words.acuity),
    unless: /\b(contrast|result|outcome|screening|date|test|form|complete\w*|checked)\b/,
    fits: (facts) => share(facts, isAcuity) > 0.6,
  },
  {
    // fractions of one numerator under the name of an eye: nothing else is written so
    is: "acuity",
    name: /^/,
    unless: anyOf(words.harmless, words.freeText),
    fits: (facts) => facts.eye !== null && share(facts, isSnellen) > 0.8,
  },
  {
    is: "acuity",
    name: /^(20|6)$/,
    fits: (facts) => share(facts, isAcuity) > 0.6 && facts.numbers.high >= 6,
  },
  {
    is: "strabismus",
    name: anyOf(words.strabismus),
    unless: new RegExp(relatives),
    fits: (facts) => oneOf(strabismusOf)(facts) && yesOfStrabismus(facts),
  },
  {
    is: "media-opacity",
    name: anyOf(words.opacity),
    fits: (facts) => oneOf(opacityOf)(facts) && yesOfOpacity(facts),
  },
  { is: "ptosis", name: anyOf(words.ptosis), fits: isYesNo },
  {
    is: "known-before",
    name: anyOf(words.known),
    // who was screened, sent on or given drops before may be known for nothing
    unless: new RegExp(
      `${relatives}|\\b(use|needed|surgery|injury|disease)\\b|${wordPattern(words.screened, words.drops, words.decision)}`,
    ),
    fits: isYesNo,
  },
  {
    is: "verification-reason",
    name: anyOf(words.reason),
    unless: /\bdate\b/,
    fits: (facts) => oneOf(reasonOf)(facts) || (oneOf(reasonOf, 0.4)(facts) && !isDecision(facts)),
  },
  {
    is: "decision",
    name: anyOf(words.decision),
    unless: new RegExp(`\\bdate\\b|${wordPattern(words.harmless)}`),
    fits: (facts) =>
      facts.cells.size <= 12 &&
      ofDecision(facts) &&
      (isDecision(facts) ||
        isYesNo(facts) ||
        // "Pass / Refer" with P and R
        (/\bpass\b.*\b(refer|fail)\b|\b(refer|fail)\b.*\bpass\b/.test(facts.words) &&
          share(facts, (text) => /^[prf]$/i.test(text)) === 1)),
  },
  {
    is: "diagnosis",
    name: anyOf(words.diagnosis),
    unless: anyOf(words.harmless, words.person, words.relatives),
    fits: (facts) =>
      (notNumbers(facts) || fewCodes(facts)) &&
      !isDecision(facts) &&
      !saysDrops(facts) &&
      yesOfDiagnosis(facts) &&
      share(facts, (text) => eyeOf(text) !== null) < 0.9 &&
      (facts.cells.size <= 40 || averageLength(facts) < 25) &&
      !couldBePeople(facts),
  },
];
