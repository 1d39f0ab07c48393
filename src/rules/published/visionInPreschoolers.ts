import type { RuleTemplate } from "../completeRule.js";
import {
  differenceInHyperopia,
  differenceInMyopia,
  directionOfDifference,
  hyperopiaQuantity,
  myopiaQuantity,
} from "./choices.js";
import { inHyperopia, inMyopia } from "./differences.js";

const groups =
  "Vision in Preschoolers Study Group, Invest Ophthalmol Vis Sci 2007;48:3115, table 1";
const kulp = "Kulp and others, Invest Ophthalmol Vis Sci 2014;55(3), abstract";
const hyperopic = { choose: "differenceInHyperopia" };
const myopic = { choose: "differenceInMyopia" };
const differences = [differenceInHyperopia, differenceInMyopia, directionOfDifference];
const acuity = "amblyopia: it needs acuities by lines and a history";
const at = { definition: "published", appliesTo: "finding", kind: "rule" };
const years = [36, 72];
const cylinder = { criterion: "astigmatism", quantity: "cylinder", eye: "worse" };

/** The most severe group of target conditions, ages 3 to 5. */
export const vipGroup1: RuleTemplate = {
  kind: "rule-template",
  id: "vip-group-1",
  title: "Target conditions of group 1, Vision in Preschoolers",
  citation: groups,
  choices: differences,
  rule: {
    ...at,
    id: "vip-group-1",
    title: "Target conditions of group 1, Vision in Preschoolers",
    citation: groups,
    bands: [
      {
        ageMonths: years,
        referWhen: [
          {
            criterion: "hyperopia",
            quantity: "mostPositiveMeridian",
            eye: "worse",
            relation: ">=",
            limit: 5,
          },
          {
            criterion: "myopia",
            quantity: "mostNegativeMeridian",
            eye: "worse",
            relation: "<=",
            limit: -6,
          },
          { ...cylinder, relation: ">=", limit: 2.5 },
          inHyperopia(hyperopic, ">", 2),
          { criterion: "anisometropia", quantity: "cylinder", relation: ">", limit: 3 },
          inMyopia(myopic, ">", 6),
        ],
      },
    ],
    notIncluded: ["constant strabismus: findings say yes or no only", acuity],
  },
};

/** The second group; a child of the first group is not sorted out beforehand. */
export const vipGroup2: RuleTemplate = {
  kind: "rule-template",
  id: "vip-group-2",
  title: "Target conditions of group 2, Vision in Preschoolers",
  citation: groups,
  choices: [hyperopiaQuantity, myopiaQuantity, ...differences],
  rule: {
    ...at,
    id: "vip-group-2",
    title: "Target conditions of group 2, Vision in Preschoolers",
    citation: groups,
    bands: [
      {
        ageMonths: years,
        referWhen: [
          {
            allOf: [
              {
                criterion: "hyperopia",
                quantity: { choose: "hyperopiaQuantity" },
                eye: "worse",
                range: { ">": 3.25, "<": 5 },
              },
              {
                criterion: "anisometropia",
                quantity: "M",
                relation: ">=",
                limit: 0.5,
              },
            ],
          },
          {
            criterion: "myopia",
            quantity: { choose: "myopiaQuantity" },
            eye: "worse",
            range: { ">": -6, "<=": -4 },
          },
          { ...cylinder, range: { ">": 1.5, "<": 2.5 } },
          inHyperopia(hyperopic, ">", 1),
          { criterion: "anisometropia", quantity: "cylinder", relation: ">", limit: 1.5 },
          inMyopia(myopic, ">", 3),
        ],
      },
    ],
    notIncluded: [
      "intermittent strabismus: findings say yes or no only",
      acuity,
      "a footnote to the differences of the eyes, which was not seen",
    ],
  },
};

/** Significant refractive error, ages 3 to 5. */
export const vipSignificant2014: RuleTemplate = {
  kind: "rule-template",
  id: "vip-significant-2014",
  title: "Significant refractive error, Vision in Preschoolers 2014",
  citation: kulp,
  choices: [hyperopiaQuantity, myopiaQuantity, ...differences],
  rule: {
    ...at,
    id: "vip-significant-2014",
    title: "Significant refractive error, Vision in Preschoolers 2014",
    citation: kulp,
    bands: [
      {
        ageMonths: years,
        referWhen: [
          {
            criterion: "hyperopia",
            quantity: { choose: "hyperopiaQuantity" },
            eye: "either",
            relation: ">",
            limit: 3.25,
          },
          {
            criterion: "myopia",
            quantity: { choose: "myopiaQuantity" },
            eye: "either",
            relation: "<",
            limit: -2,
          },
          { ...cylinder, eye: "either", relation: ">", limit: 1.5 },
          inHyperopia(hyperopic, ">", 1),
          { criterion: "anisometropia", quantity: "cylinder", relation: ">", limit: 1.5 },
          inMyopia(myopic, ">", 3),
        ],
      },
    ],
  },
};
