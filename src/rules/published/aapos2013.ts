import type { RuleTemplate } from "../completeRule.js";
import { anisometropiaQuantity, hyperopiaQuantity, myopiaQuantity } from "./choices.js";

const citation = "Donahue and others, J AAPOS 2013 (its numbers as two public summaries give them)";

interface BandLimits {
  readonly hyperopia: number;
  readonly myopia: number;
  readonly astigmatism: number;
  readonly anisometropia: number;
}

const band = (from: number, to: number, limits: BandLimits) => ({
  ageMonths: [from, to],
  referWhen: [
    {
      criterion: "hyperopia",
      quantity: { choose: "hyperopiaQuantity" },
      eye: "either",
      relation: ">",
      limit: limits.hyperopia,
    },
    {
      criterion: "myopia",
      quantity: { choose: "myopiaQuantity" },
      eye: "either",
      relation: "<",
      limit: limits.myopia,
    },
    {
      criterion: "astigmatism",
      quantity: "cylinder",
      eye: "either",
      relation: ">",
      limit: limits.astigmatism,
    },
    {
      criterion: "anisometropia",
      quantity: { choose: "anisometropiaQuantity" },
      relation: ">",
      limit: limits.anisometropia,
    },
    {
      criterion: "mediaOpacity",
      is: true,
      eye: "either",
      note: "the source says an opacity above 1 mm: record a smaller one as no",
    },
  ],
});

/** Amblyopia risk factors at the exam, by the ages 12-30, 31-48 and 49-72 months as printed. */
export const aapos2013: RuleTemplate = {
  kind: "rule-template",
  id: "aapos-2013",
  title: "Amblyopia risk factors, AAPOS 2013",
  citation,
  choices: [hyperopiaQuantity, myopiaQuantity, anisometropiaQuantity],
  rule: {
    kind: "rule",
    id: "aapos-2013",
    title: "Amblyopia risk factors, AAPOS 2013",
    definition: "published",
    citation,
    appliesTo: "finding",
    bands: [
      band(12, 31, { hyperopia: 4.5, myopia: -3.5, astigmatism: 2, anisometropia: 2.5 }),
      band(31, 49, { hyperopia: 4, myopia: -3, astigmatism: 2, anisometropia: 2 }),
      band(49, 73, { hyperopia: 3.5, myopia: -1.5, astigmatism: 1.5, anisometropia: 1.5 }),
    ],
    notIncluded: ["manifest strabismus: its size limit was not read in print"],
    note:
      "Myopia is printed with > before a negative number, meaning more myopic; another summary " +
      "prints more than 3 D at all ages. One summary gives no upper age, the other 72 months.",
  },
};
