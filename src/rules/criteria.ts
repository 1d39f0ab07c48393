import type { EyeLogic, EyeQuantity, PairQuantity, RuleCriterion } from "./types.js";

/** What a criterion may be stated on. */
export interface CriterionFacts {
  readonly words: string;
  readonly quantities: readonly (EyeQuantity | PairQuantity)[];
  readonly unit: "D" | "mm" | "prism D" | "logMAR" | "yes/no";
  readonly worse: "high" | "low";
  readonly eyes: readonly EyeLogic[];
  readonly of: readonly ("reading" | "finding")[];
  /** The quantity cannot be negative. */
  readonly unsigned: boolean;
}

const oneEye: readonly EyeLogic[] = [
  "either",
  "both",
  "worse",
  "lesser-error",
  "greatest-error",
  "right",
  "left",
];
const yesNoEye: readonly EyeLogic[] = ["either", "both", "right", "left"];
const pair: readonly EyeLogic[] = ["pair"];
const anySource = ["reading", "finding"] as const;
const powers = ["sphere", "mostPositiveMeridian", "mostNegativeMeridian", "M"] as const;

const dioptres = { unit: "D", eyes: oneEye, of: anySource } as const;
const yesNo = {
  quantities: [],
  unit: "yes/no",
  worse: "high",
  eyes: yesNoEye,
  of: ["finding"],
  unsigned: true,
} as const;

export const criteria: Readonly<Record<RuleCriterion, CriterionFacts>> = {
  hyperopia: {
    ...dioptres,
    words: "hyperopia",
    quantities: powers,
    worse: "high",
    unsigned: false,
  },
  myopia: { ...dioptres, words: "myopia", quantities: powers, worse: "low", unsigned: false },
  refraction: {
    ...dioptres,
    words: "refraction",
    quantities: powers,
    worse: "high",
    unsigned: false,
  },
  astigmatism: {
    ...dioptres,
    words: "astigmatism",
    quantities: ["cylinder"],
    worse: "high",
    unsigned: true,
  },
  obliqueAstigmatism: {
    ...dioptres,
    words: "oblique astigmatism",
    quantities: ["cylinder"],
    worse: "high",
    unsigned: true,
  },
  anisometropia: {
    words: "anisometropia",
    quantities: [...powers, "cylinder", "greatestMeridian", "vector", "J0", "J45"],
    unit: "D",
    worse: "high",
    eyes: pair,
    of: anySource,
    unsigned: true,
  },
  pupilDifference: {
    words: "difference of the pupils",
    quantities: ["pupilMm"],
    unit: "mm",
    worse: "high",
    eyes: pair,
    of: ["reading"],
    unsigned: true,
  },
  gazeDeviation: {
    words: "gaze deviation",
    quantities: ["horizontal", "vertical", "combined"],
    unit: "prism D",
    worse: "high",
    eyes: oneEye,
    of: ["reading"],
    unsigned: true,
  },
  acuity: {
    words: "acuity",
    quantities: ["logMAR"],
    unit: "logMAR",
    worse: "high",
    eyes: oneEye,
    of: ["finding"],
    unsigned: false,
  },
  acuityDifference: {
    words: "difference of acuity",
    quantities: ["logMAR"],
    unit: "logMAR",
    worse: "high",
    eyes: pair,
    of: ["finding"],
    unsigned: true,
  },
  strabismus: { ...yesNo, words: "strabismus" },
  mediaOpacity: { ...yesNo, words: "media opacity" },
  ptosis: { ...yesNo, words: "ptosis" },
};

export const quantityWords: Readonly<Record<EyeQuantity | PairQuantity, string>> = {
  sphere: "sphere (minus-cylinder form)",
  mostPositiveMeridian: "most positive meridian",
  mostNegativeMeridian: "most negative meridian",
  M: "spherical equivalent (M)",
  cylinder: "size of the cylinder",
  greatestMeridian: "greatest difference over corresponding meridians",
  vector: "length of the vector difference",
  J0: "J0",
  J45: "J45",
  pupilMm: "diameter",
  horizontal: "horizontal deviation",
  vertical: "vertical deviation",
  combined: "horizontal and vertical deviation combined",
  logMAR: "logMAR",
};
