import type { TemplateChoice } from "../completeRule.js";

const equivalent = { id: "M", words: "spherical equivalent (M)" };
const positive = { id: "mostPositiveMeridian", words: "most positive meridian" };
const negative = { id: "mostNegativeMeridian", words: "most negative meridian" };
const sphere = { id: "sphere", words: "sphere in minus-cylinder form" };

export const hyperopiaQuantity: TemplateChoice = {
  name: "hyperopiaQuantity",
  question: "The source, as seen, does not say which power a hyperopia limit is on.",
  options: [equivalent, positive, sphere],
};

export const myopiaQuantity: TemplateChoice = {
  name: "myopiaQuantity",
  question: "The source, as seen, does not say which power a myopia limit is on.",
  options: [equivalent, negative, sphere],
};

export const anisometropiaQuantity: TemplateChoice = {
  name: "anisometropiaQuantity",
  question: "The source, as seen, does not say which difference of the eyes is meant.",
  options: [
    equivalent,
    sphere,
    { id: "cylinder", words: "size of the cylinder" },
    positive,
    negative,
    { id: "greatestMeridian", words: "greatest difference over corresponding meridians" },
  ],
};

export const differenceInHyperopia: TemplateChoice = {
  name: "differenceInHyperopia",
  question: "The source, as seen, does not say which power a difference in hyperopia is on.",
  options: [equivalent, positive],
};

export const differenceInMyopia: TemplateChoice = {
  name: "differenceInMyopia",
  question: "The source, as seen, does not say which power a difference in myopia is on.",
  options: [equivalent, negative],
};

export const directionOfDifference: TemplateChoice = {
  name: "directionOfDifference",
  question:
    "The source, as seen, does not say when a difference counts as one of hyperopia (power above 0) or of myopia (below 0).",
  options: [
    { id: "greatest-error", words: "by the eye further from 0" },
    { id: "both", words: "when both eyes are on that side of 0" },
    { id: "either", words: "when either eye is on that side of 0" },
  ],
};
