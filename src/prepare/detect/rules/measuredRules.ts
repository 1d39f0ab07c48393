import { numeric, power } from "../ruleFits.js";

import * as words from "../vocabulary/index.js";
import { anyOf, wordPattern } from "../vocabulary/index.js";

import { type RoleRule, identity, isYesNo } from "./ruleWords.js";

/** Of a power that was not measured here and now, besides what `isOfAnother` knows. */
const notMeasured =
  "\\b(std|stdev|var|range|own|habitual|worn|lensmet\\w*|lensomet\\w*|focimet\\w*|predict\\w*|target|expect\\w*|contact|trial|error|aberr\\w*)\\b";

/** Notation in remarks, of glasses worn already, or of another day or person. */
const notesOrWorn = new RegExp(
  `\\b(comments?|remarks?|pgp)\\b|${notMeasured}|${wordPattern(words.worn, { spanish: "gafa" })}`,
);

/** A gaze with its direction, in either order. */
function gazeAlong(direction: string): RegExp {
  const gaze = wordPattern(words.gaze);
  return new RegExp(`${gaze}.*\\b(${direction})\\b|\\b(${direction}) ${gaze}`);
}

/** Of what is measured of an eye. */
export const measuredRules: readonly RoleRule[] = [
  {
    // of the cornea and the length of the eye, and no refraction
    is: "other",
    name: anyOf(words.biometry),
    fits: (facts) => facts.numbers.share >= 0.4,
  },
  {
    is: "prescription",
    name: /^/,
    unless: notesOrWorn,
    fits: (facts) => facts.twoEyes !== null,
  },
  {
    is: "equivalent",
    name: anyOf(words.equivalent),
    unless: new RegExp(`\\b(va|acuity|snellen|logmar|cyl)\\b|${notMeasured}`),
    fits: power(-30, 30),
  },
  {
    is: "sphere",
    name: anyOf(words.sphere),
    unless: new RegExp(`${identity.source}|${notMeasured}`),
    fits: power(-30, 30),
  },
  {
    is: "cylinder",
    name: anyOf(words.cylinder),
    unless: new RegExp(`${identity.source}|\\b(k|se)\\b|${notMeasured}`),
    // astigmatism as yes and no is a diagnosis
    fits: (facts) => power(-15, 15)(facts) && !(/\bastig/.test(facts.words) && isYesNo(facts)),
  },
  {
    is: "axis",
    name: anyOf(words.axis),
    unless: new RegExp(
      `${identity.source}|\\b(length|len|lengte|lange|laenge|k)\\b|${notMeasured}`,
    ),
    fits: (facts) => power(0, 360)(facts) && facts.numbers.negative <= 0.1 * facts.filled,
  },
  {
    is: "prescription",
    name: /^/,
    unless: notesOrWorn,
    fits: (facts) => facts.notation >= 0.5 && facts.numbers.share < 0.9,
  },
  {
    is: "prescription",
    name: anyOf(words.refraction),
    unless: notesOrWorn,
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
    // a child at school is one as well
    unless: new RegExp(
      `\\b(id|no|nr|name|number|code|school|years|yrs|months|class|grade|form|home|address)\\b|${wordPattern(words.age)}|${wordPattern(words.sex)}`,
    ),
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
      `\\b(flag|confirm\\w*|risk|total|quest\\w*|symptom\\w*|apgar|life|inclusion|selection|sampling)\\b|${wordPattern(words.harmless)}`,
    ),
    fits: numeric(0, 1000),
  },
];
