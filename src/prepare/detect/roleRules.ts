import { looksLikeNames } from "../../privacy/index.js";
import {
  firstCells,
  holdsPowers,
  isAcuity,
  isSnellen,
  isDecision,
  isYearsAndMonths,
  share,
} from "./cellForms.js";
import type { ColumnFacts } from "./columnFacts.js";
import { aChild } from "./nameWords.js";
import type { Role } from "./roles.js";
import {
  always,
  averageLength,
  few,
  fewCodes,
  isPerson,
  isPrescribing,
  notNumbers,
  notNumeric01,
  notUnique,
  numeric,
  paddedCodes,
  power,
  repeats,
  words as oneOf,
} from "./ruleFits.js";
import { isUnderstood } from "./understood.js";
import * as words from "./vocabulary/index.js";
import { anyOf, wordPattern } from "./vocabulary/index.js";
import {
  ageUnitOf,
  attemptOf,
  correctionOf,
  cycloplegiaOf,
  eyeOf,
  eyeReader,
  methodOf,
  opacityOf,
  reasonOf,
  sexWord,
  statusOf,
  strabismusOf,
  wordsAlike,
  yesNoOf,
} from "./wordLists.js";

/** One way of knowing a role: the words of the name, and what the cells have to be then. */
interface RoleRule {
  readonly is: Role;
  readonly name: RegExp;
  readonly unless?: RegExp;
  readonly fits: (facts: ColumnFacts) => boolean;
}

const freeText = anyOf(words.freeText);
const prescribed = anyOf(words.prescribed);
/** With drops in some rows and without them in others. */
function saysDrops(facts: ColumnFacts): boolean {
  const said = new Set([...facts.cells.keys()].map(cycloplegiaOf));
  return (
    notNumbers(facts) && oneOf(cycloplegiaOf, 0.9)(facts) && said.has("none") && said.has("full")
  );
}

/** Of a power that was not measured here and now: of glasses, of another day or person, or a spread of several. */
const notMeasured = new RegExp(
  `\\b(sd|cv|std|stdev|var|range|change|delta|diff\\w*|old|prev|previous|own|habitual|worn|lensmet\\w*|lensomet\\w*|focimet\\w*|last|predict\\w*|target|expect\\w*|spectacles?|glasses|gls|specs|contact|trial|error|aberr\\w*|rms)\\b|${wordPattern(words.relatives)}`,
);
/** Words of cells that name a part of a programme, and no place. */
const noPlace =
  /^(19|20)\d\d\b|^(interv|control|placebo|treat|state$|private$|public$|privad|public[oa]$|prive$|privat|staatlich)/;
const isPlace = (facts: ColumnFacts) =>
  repeats(facts) && !isYesNo(facts) && share(facts, (text) => noPlace.test(wordsAlike(text))) < 0.5;

/** A yes or no is one of this thing where its name speaks of nothing else. */
const yesOf =
  (...own: readonly words.Words[]) =>
  (facts: ColumnFacts) =>
    !isYesNo(facts) || isUnderstood(facts, ...own);

/** How many of something. */
const counts =
  /^(no|number|num|n|nr|nro) (of|de|di|van|von|av|af)\b|\b(count|counts|anzahl|aantal|antal|antall|liczba|sayisi|jumlah|cantidad|quantidade|quantita)\b|\b(hours|hrs|minutes|seconds)\b/;
/** Of a reading itself, and not of the child who was screened. */
const reading =
  /\b(capture|read|reading|meas|measurement|mess\w*|lectura|leitura|lettura|lecture|medida|mesure|misura|meting|maling|matning|pomiar\w*|olcum)\b/;
const relatives = wordPattern(words.relatives);
const isYesNo = oneOf(yesNoOf);
const identity = /\b(id|ids|no|nr|num|number|code|name|key)\b/;
/** What a column could be of besides a place, a person or a decision: then neither of them is taken for granted. */
const another = wordPattern(words.freeText, words.harmless);
const place = anyOf(words.place);
const site = new RegExp(`${place.source}|^local$`);

/** A gaze with its direction, in either order. */
function gazeAlong(direction: string): RegExp {
  const gaze = wordPattern(words.gaze);
  return new RegExp(`${gaze}.*\\b(${direction})\\b|\\b(${direction}) ${gaze}`);
}

/** In the order in which they are asked: the first that fits is taken. */
export const rules: readonly RoleRule[] = [
  {
    // of the cornea and the length of the eye, and no refraction
    is: "other",
    name: anyOf(words.biometry),
    fits: (facts) => facts.numbers.share >= 0.4,
  },
  {
    is: "prescription",
    name: /^/,
    unless: /\b(comments?|remarks?)\b/,
    fits: (facts) => facts.twoEyes !== null,
  },
  {
    is: "equivalent",
    name: anyOf(words.equivalent),
    unless: new RegExp(`\\b(va|acuity|snellen|logmar)\\b|${notMeasured.source}`),
    fits: power(-30, 30),
  },
  {
    is: "sphere",
    name: anyOf(words.sphere),
    unless: new RegExp(`${identity.source}|${notMeasured.source}`),
    fits: power(-30, 30),
  },
  {
    is: "cylinder",
    name: anyOf(words.cylinder),
    unless: new RegExp(`${identity.source}|\\bk\\b|${notMeasured.source}`),
    // astigmatism as yes and no is a diagnosis
    fits: (facts) => power(-15, 15)(facts) && !(/\bastig/.test(facts.words) && isYesNo(facts)),
  },
  {
    is: "axis",
    name: anyOf(words.axis),
    unless: new RegExp(
      `${identity.source}|\\b(length|len|lengte|lange|laenge|k)\\b|${notMeasured.source}`,
    ),
    fits: (facts) => power(0, 360)(facts) && facts.numbers.negative <= 0.1 * facts.filled,
  },
  {
    is: "prescription",
    name: /^/,
    unless: /\b(comments?|remarks?)\b/,
    fits: (facts) => facts.notation >= 0.5 && facts.numbers.share < 0.9,
  },
  {
    is: "prescription",
    name: anyOf(words.refraction),
    fits: (facts) => facts.notation >= 0.2 && facts.numbers.share < 0.9,
  },
  {
    is: "interpupillary",
    name: anyOf(words.interpupillary),
    fits: numeric(20, 90),
  },
  {
    is: "pupil",
    name: anyOf(words.pupil),
    unless: /\b(id|no|nr|name|number|code|school)\b/,
    // 0 stands for none
    fits: (facts) =>
      numeric(0, 12)(facts) && facts.numbers.middle >= 0.5 && facts.numbers.high <= 20,
  },
  {
    is: "gaze-horizontal",
    name: gazeAlong("h|hor|horiz\\w*|x|oriz\\w*|poz\\w*"),
    fits: numeric(-90, 90),
  },
  {
    is: "gaze-vertical",
    name: gazeAlong("v|ver|vert\\w*|y|pion\\w*|lodr\\w*"),
    fits: numeric(-90, 90),
  },
  {
    is: "confidence",
    name: anyOf(words.confidence),
    unless: new RegExp(
      `\\b(flag|confirm\\w*|risk|total|quest\\w*|symptom\\w*|apgar|life)\\b|${wordPattern(words.harmless)}`,
    ),
    fits: numeric(0, 1000),
  },
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
    fits: (facts) => (notNumbers(facts) || paddedCodes(facts)) && !isYesNo(facts),
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
      isUnderstood(facts, words.glasses, words.prescribed, words.refraction, words.decision) &&
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
    fits: (facts) =>
      notNumeric01(facts) &&
      oneOf(cycloplegiaOf)(facts) &&
      yesOf(words.drops, words.refraction)(facts),
  },
  {
    is: "correction",
    name: anyOf(words.worn),
    unless: new RegExp(`${prescribed.source}|${relatives}|\\bhearing\\b`),
    // given or needed is said of a prescription, and not of what was worn
    fits: (facts) =>
      oneOf(correctionOf)(facts) &&
      share(facts, isPrescribing) < 0.5 &&
      yesOf(words.glasses, words.worn, words.repeatWords)(facts),
  },
  {
    is: "method",
    name: anyOf(words.method),
    fits: oneOf(methodOf, 0.75),
  },
  {
    is: "acuity",
    name: anyOf(words.acuity),
    unless: /\b(result|outcome|screening|date|test|form|complete\w*|checked)\b/,
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
    fits: (facts) => oneOf(strabismusOf)(facts) && yesOf(words.strabismus, words.diagnosis)(facts),
  },
  {
    is: "media-opacity",
    name: anyOf(words.opacity),
    fits: (facts) => oneOf(opacityOf)(facts) && yesOf(words.opacity)(facts),
  },
  { is: "ptosis", name: anyOf(words.ptosis), fits: isYesNo },
  {
    is: "known-before",
    name: anyOf(words.known),
    unless: new RegExp(relatives),
    fits: (facts) =>
      isYesNo(facts) &&
      isUnderstood(facts, words.known, words.glasses, words.examiner, words.diagnosis),
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
      isUnderstood(
        facts,
        words.decision,
        words.statusWords,
        words.prescribed,
        words.diagnosis,
        words.instrument,
      ) &&
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
      yesOf(words.diagnosis)(facts) &&
      share(facts, (text) => eyeOf(text) !== null) < 0.9 &&
      (facts.cells.size <= 40 || averageLength(facts) < 25) &&
      !(facts.cells.size > facts.filled / 3 && looksLikeNames(firstCells(facts, 5000))),
  },
  {
    is: "site",
    name: site,
    unless: new RegExp(
      `\\b(phone|address|street|type|mail|return|next|follow|due|letter|birth|funding|size|fees?|prev|previous|former|last|referred|referral|device|work\\w*|pupils|children|students)\\b|${another}|${wordPattern(words.person)}`,
    ),
    // the number of a school stands in many rows, that of a child in some
    fits: (facts) =>
      repeats(facts) &&
      !isYesNo(facts) &&
      (!identity.test(facts.words) || facts.cells.size <= facts.filled / 5),
  },
  {
    // a year of school, and no year of a calendar
    is: "site",
    name: /^(year|years|yr|yrs|ano|annee|jahr|anno|jaar|ar|rok|yil|tahun)$/,
    fits: (facts) => notNumbers(facts) && isPlace(facts),
  },
  {
    is: "site",
    name: new RegExp(`${wordPattern(words.lesserPlace)}|^form$`),
    unless: new RegExp(
      `\\b(id|type|age|alter|sangu\\w*|blood|study|treat\\w*|control|ethnic|risk|income|interv\\w*|size|prev|previous|former|last|device|pupils|children|students)\\b|${another}|${wordPattern(words.person)}`,
    ),
    fits: (facts) => isPlace(facts) && !(facts.numbers.point > 0),
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
      few(12)(facts) && (isYesNo(facts) || facts.numbers.share >= 0.9 || repeats(facts)),
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
    fits: (facts) =>
      (facts.numbers.share >= 0.9 && facts.numbers.high < 10_000) ||
      (few(12)(facts) && repeats(facts)),
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
