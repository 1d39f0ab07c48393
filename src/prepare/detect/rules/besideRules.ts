import { holdsPowers, share } from "../cellForms.js";
import type { ColumnFacts } from "../columnFacts.js";

import { couldBePeople } from "../disorders.js";
import { isAgeRange, isYearsOfSchool } from "../schoolYears.js";
import { few, notNumbers, notUnique, repeats } from "../ruleFits.js";

import * as words from "../vocabulary/index.js";
import { anyOf, wordPattern } from "../vocabulary/index.js";
import { wordsAlike } from "../wordLists.js";

import {
  type RoleRule,
  another,
  counts,
  freeText,
  identity,
  isYesNo,
  place,
  relatives,
} from "./ruleWords.js";

/** Words of cells that name a part of a programme, and no place. */
const noPlace =
  /^(19|20)\d\d\b|^(interv|control|placebo|treat|state$|private$|public$|privad|public[oa]$|prive$|privat|staatlich|urban|rural|stadtisch|landlich|stedelijk|landelijk|miejsk|wiejsk|perkotaan|pedesaan|high$|middle$|medium$|low$|alto$|medi[oa]$|baj[oa]$|baix[oa]$|hoch$|mittel$|niedrig$|faible$|moyen$|eleve$)/;

const isPlace = (facts: ColumnFacts) =>
  repeats(facts) && !isYesNo(facts) && share(facts, (text) => noPlace.test(wordsAlike(text))) < 0.5;

const site = new RegExp(`${place.source}|^local$`);

/** A group that has only a number could be of anything, as the arms of a trial. */
const isNumberedGroup = ({ words: name, numbers }: ColumnFacts) =>
  numbers.share > 0.9 && /\b(group|groupe|grupo|gruppe|gruppo|grupp|grupa)\b/.test(name);

const notSchoolYear = new RegExp(
  `\\b(id|type|age|alter|sangu\\w*|blood|study|treat\\w*|control|ethnic|risk|income|interv\\w*|size|prev|previous|former|last|device|pupils|children|students)\\b|${another}|${wordPattern(words.person, words.ageClass)}`,
);

/** Of places, remarks and what else stands beside. */
export const besideRules: readonly RoleRule[] = [
  {
    // in order, as ages are, and the same in every school: no place
    is: "other",
    name: new RegExp(
      `${wordPattern(words.schoolYear)}|^(form|year|years|ano|annee|jahr|anno|jaar)$`,
    ),
    unless: notSchoolYear,
    fits: (facts) => few(20)(facts) && isYearsOfSchool(facts) && repeats(facts),
  },
  {
    is: "other",
    name: anyOf(words.ageClass),
    fits: (facts) => few(20)(facts) && share(facts, isAgeRange) > 0.8,
  },
  {
    is: "other",
    name: anyOf(words.design),
    fits: (facts) =>
      (few(30)(facts) && repeats(facts)) || (facts.numbers.share > 0.9 && facts.numbers.whole < 1),
  },
  {
    is: "site",
    name: site,
    unless: new RegExp(
      `\\b(phone|address|street|type|mail|return|next|follow|due|letter|birth|funding|size|fees?|prev|previous|former|last|referred|referral|device|work\\w*|pupils|children|students)\\b|${another}|${wordPattern(words.person)}`,
    ),
    // the number of a school stands in many rows, that of a child in some
    fits: (facts) =>
      isPlace(facts) && (!identity.test(facts.words) || facts.cells.size <= facts.filled / 5),
  },
  {
    // a year of school, and no year of a calendar
    is: "site",
    name: /^(year|years|yr|yrs|ano|annee|jahr|anno|jaar|ar|rok|yil|tahun)$/,
    fits: (facts) => notNumbers(facts) && isPlace(facts),
  },
  {
    is: "site",
    name: new RegExp(`${wordPattern(words.schoolYear, words.lesserPlace)}|^form$`),
    unless: notSchoolYear,
    fits: (facts) => isPlace(facts) && !(facts.numbers.point > 0) && !isNumberedGroup(facts),
  },
  {
    is: "instrument",
    name: anyOf(words.instrument),
    unless: new RegExp(
      `\\b(result|outcome|message|status|recommend\\w*|error|reading|no|nr|id)\\b|${wordPattern(words.harmless)}`,
    ),
    fits: (facts) => few(20)(facts) && notUnique(facts) && !isYesNo(facts),
  },
  {
    is: "free-text",
    name: freeText,
    fits: (facts) => facts.numbers.share < 0.9 && !holdsPowers(facts) && !isYesNo(facts),
  },
  {
    is: "day",
    name: /\b(day|days|study day|day number)\b/,
    unless: new RegExp(
      `\\b(birth|week|weeks|hrs?|hours?|per|times|h|patch\\w*|since|absent)\\b|${wordPattern(words.harmless)}`,
    ),
    fits: (facts) =>
      facts.numbers.share > 0.9 && facts.numbers.whole === 1 && facts.numbers.high < 20_000,
  },
  {
    // power vectors, which are computed here
    is: "other",
    name: /\bj (0|45)\b/,
    fits: (facts) => facts.numbers.share >= 0.4,
  },
  {
    // whether the family has something, and how many of them
    is: "other",
    name: new RegExp(relatives),
    unless: identity,
    fits: (facts) =>
      few(12)(facts) &&
      (isYesNo(facts) || facts.numbers.share >= 0.9 || (repeats(facts) && !couldBePeople(facts))),
  },
  {
    is: "other",
    name: counts,
    unless: anyOf(words.child),
    fits: (facts) => facts.numbers.share >= 0.9 && facts.numbers.whole === 1 && few(20)(facts),
  },
  {
    is: "other",
    name: anyOf(words.harmless),
    unless: /\b(id|no|nr|num|number|code|name|by|date)\b/,
    // under "signed" anything but yes and no says by whom
    fits: (facts) =>
      (facts.numbers.share >= 0.9 && facts.numbers.high < 10_000) ||
      (few(12)(facts) &&
        repeats(facts) &&
        (isYesNo(facts) || !/\b(signed|notified|informed|firmado|assinado)\b/.test(facts.words))),
  },
  {
    // of what nobody is measured by: an event of a data base, a form and whether it is complete
    is: "other",
    name: /\b(event|form|project|protocol|module|task|questionnaire) (name|label|title|complete|status|version)\b|\bcomplete$/,
    fits: (facts) => few(20)(facts) && (repeats(facts) || facts.cells.size === 1),
  },
  {
    // a few words where a name speaks of another date: "6 weeks" until the next visit, whether a letter was sent
    is: "other",
    name: /\b(next|follow|letter|brief|lettre|carta|sent|mailed|booked|consent\w*|due)\b/,
    unless: /\b(id|no|nr|num|number|code|by)\b/,
    fits: (facts) => notNumbers(facts) && few(12)(facts) && repeats(facts),
  },
];
