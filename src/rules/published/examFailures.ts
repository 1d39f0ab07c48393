import type { RuleTemplate } from "../completeRule.js";
import type { ReferralRule } from "../types.js";
import {
  anisometropiaQuantity,
  directionOfDifference,
  hyperopiaQuantity,
  myopiaQuantity,
} from "./choices.js";
import { inHyperopia, inMyopia } from "./differences.js";

const school = "J AAPOS 2015;19:157-162, footnotes of table 2";
const schoolTitle = "Amblyogenic refraction at a school exam, 2015";
const preschool = "Strabismus 2001;9:59-70, abstract";
const preschoolTitle = "Exam failure of a preschool study, 2001";
const equivalent = "M";

/** School age; the exact ages were not seen, so the rule asks for none. */
export const schoolExam2015: RuleTemplate = {
  kind: "rule-template",
  id: "school-exam-2015",
  title: schoolTitle,
  citation: school,
  choices: [directionOfDifference],
  rule: {
    kind: "rule",
    id: "school-exam-2015",
    title: schoolTitle,
    definition: "published",
    citation: school,
    appliesTo: "finding",
    referWhen: [
      { criterion: "hyperopia", quantity: equivalent, eye: "both", relation: ">=", limit: 4 },
      { criterion: "myopia", quantity: equivalent, eye: "both", relation: "<=", limit: -6 },
      { criterion: "astigmatism", quantity: "cylinder", eye: "both", relation: ">=", limit: 2 },
      inHyperopia(equivalent, ">=", 1),
      inMyopia(equivalent, ">=", 3),
      { criterion: "anisometropia", quantity: "cylinder", relation: ">=", limit: 1.5 },
    ],
    notIncluded: ["strabismus above 8 prism dioptres: findings say yes or no only"],
  },
};

/** Cycloplegic limits whose quantity was not seen. */
export const examFailure2001: RuleTemplate = {
  kind: "rule-template",
  id: "exam-failure-2001",
  title: preschoolTitle,
  citation: preschool,
  choices: [hyperopiaQuantity, myopiaQuantity, anisometropiaQuantity],
  rule: {
    kind: "rule",
    id: "exam-failure-2001",
    title: preschoolTitle,
    definition: "published",
    citation: preschool,
    appliesTo: "finding",
    referWhen: [
      {
        criterion: "hyperopia",
        quantity: { choose: "hyperopiaQuantity" },
        eye: "either",
        relation: ">",
        limit: 3.5,
      },
      {
        criterion: "myopia",
        quantity: { choose: "myopiaQuantity" },
        eye: "either",
        relation: "<",
        limit: -3,
      },
      { criterion: "astigmatism", quantity: "cylinder", eye: "either", relation: ">=", limit: 2 },
      {
        criterion: "anisometropia",
        quantity: { choose: "anisometropiaQuantity" },
        relation: ">=",
        limit: 1.5,
      },
    ],
  },
};

/** Limits that a paper took from the literature; sphere in minus-cylinder form. */
export const abnormalRefraction: ReferralRule = {
  kind: "rule",
  id: "abnormal-refraction-bjo",
  title: "Abnormal refraction by limits from the literature",
  definition: "published",
  citation: "Br J Ophthalmol, table 1 of the article numbered 172537 by its host; year not noted",
  appliesTo: "finding",
  referWhen: [
    { criterion: "hyperopia", quantity: "sphere", eye: "worse", relation: ">=", limit: 4 },
    { criterion: "myopia", quantity: "sphere", eye: "worse", relation: "<", limit: -2 },
    { criterion: "astigmatism", quantity: "cylinder", eye: "worse", relation: ">=", limit: 1.5 },
    { criterion: "anisometropia", quantity: "sphere", relation: ">=", limit: 1 },
    { criterion: "anisometropia", quantity: "cylinder", relation: ">=", limit: 1 },
  ],
  notIncluded: [
    "the borderline class: its row for the difference of the eyes is misprinted in the source",
  ],
};
