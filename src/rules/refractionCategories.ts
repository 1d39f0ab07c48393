import type { Relation } from "../rows/index.js";
import type { Expression } from "./types.js";

/** One category: who is in it. */
export interface RefractionCategory {
  readonly name: string;
  readonly when: Expression;
}

/** Categories of refraction by one published definition. */
export interface RefractionCategories {
  readonly kind: "refraction-categories";
  readonly id: string;
  readonly title: string;
  readonly citation: string;
  /** Of one eye (limits are written on the right eye), or of a person. */
  readonly of: "eye" | "person";
  readonly categories: readonly RefractionCategory[];
  /** What the source has and this has not, or how its words were read. */
  readonly note?: string;
}

const equivalent = (eye: "right" | "either" | "lesser-error" | "greatest-error") => {
  const limit = (criterion: "hyperopia" | "myopia") => (relation: Relation, value: number) =>
    ({ criterion, quantity: "M", eye, relation, limit: value }) as const;
  return { hyperopia: limit("hyperopia"), myopia: limit("myopia") };
};
const cylinder = (eye: "right" | "either", relation: Relation, limit: number) =>
  ({ criterion: "astigmatism", quantity: "cylinder", eye, relation, limit }) as const;
const between = (quantity: "M" | "cylinder" | "J0" | "J45", relation: Relation, limit: number) =>
  ({ criterion: "anisometropia", quantity, relation, limit }) as const;

const ofEye = equivalent("right");
const greater = equivalent("greatest-error");
const lesser = equivalent("lesser-error");

/**
 * Categories of refraction by id, each with the quantity and the relation of its source. Only what
 * was read in print is here.
 *
 * @example
 * refractionCategories["imi-2019"].categories.length // => 2
 */
export const refractionCategories = {
  "imi-2019": {
    kind: "refraction-categories",
    id: "imi-2019",
    title: "Myopia, International Myopia Institute 2019",
    citation: "Invest Ophthalmol Vis Sci 2019;60(3):M20-M30 (an erratum of 2024 exists)",
    of: "eye",
    categories: [
      { name: "myopia", when: ofEye.myopia("<=", -0.5) },
      { name: "high myopia", when: ofEye.myopia("<=", -6) },
    ],
    note: "Low myopia and pre-myopia are left out: their ends were not read in print, or they need more than a refraction.",
  },
  "nhanes-2008": {
    kind: "refraction-categories",
    id: "nhanes-2008",
    title: "Refractive error in the United States, 1999-2004",
    citation: "Vitale and others, Arch Ophthalmol 2008;126:1111, abstract",
    of: "person",
    categories: [
      { name: "hyperopia", when: greater.hyperopia(">=", 3) },
      { name: "myopia", when: greater.myopia("<=", -1) },
      { name: "astigmatism", when: cylinder("either", ">=", 1) },
    ],
    note: "Spherical equivalent of the eye whose equivalent is further from 0; persons of 12 years and over.",
  },
  "knhanes-2010": {
    kind: "refraction-categories",
    id: "knhanes-2010",
    title: "Refractive error in Korea",
    citation: "PMC3223710, table 3",
    of: "eye",
    categories: [
      { name: "hyperopia", when: ofEye.hyperopia(">", 1) },
      { name: "myopia", when: ofEye.myopia("<", -0.75) },
      { name: "astigmatism", when: cylinder("right", ">", 0.75) },
    ],
    note: '"Worse than" in the source is read as strict.',
  },
  "knhanes-anisometropia": {
    kind: "refraction-categories",
    id: "knhanes-anisometropia",
    title: "Anisometropia in Korea",
    citation: "PMC4878982, table 3",
    of: "person",
    categories: [
      {
        name: "anisometropia",
        when: [between("M", ">=", 2), between("cylinder", ">=", 1.5)],
      },
    ],
  },
  "poland-adult": {
    kind: "refraction-categories",
    id: "poland-adult",
    title: "Refractive error in Polish adults of 35 years and over",
    citation: "PMC5800189",
    of: "eye",
    categories: [
      { name: "hyperopia", when: ofEye.hyperopia(">=", 0.5) },
      { name: "myopia", when: ofEye.myopia("<=", -0.5) },
    ],
  },
  bpeds: {
    kind: "refraction-categories",
    id: "bpeds",
    title: "Refractive error of the Baltimore paediatric study, 6 to 71 months",
    citation: "PMC2680482, abstract",
    of: "person",
    categories: [
      { name: "hyperopia", when: lesser.hyperopia(">=", 3) },
      { name: "myopia", when: lesser.myopia("<=", -1) },
    ],
    note: "Of the eye with the lesser error. Emmetropia is left out: its printed signs are ambiguous.",
  },
  "mepeds-anisometropia": {
    kind: "refraction-categories",
    id: "mepeds-anisometropia",
    title: "Anisometropia of the multi-ethnic paediatric study, 6 to 72 months",
    citation: "PMC2814917, abstract",
    of: "person",
    categories: [
      { name: "of the spherical equivalent", when: between("M", ">=", 1) },
      { name: "of the cylinder", when: between("cylinder", ">=", 1) },
      {
        name: "of J0 or J45",
        when: [between("J0", ">=", 0.5), between("J45", ">=", 0.5)],
      },
    ],
    note: "Cylinder at any axis. J45 of the two eyes is compared as it is, not mirrored.",
  },
  cleere: {
    kind: "refraction-categories",
    id: "cleere",
    title: "Refractive error of school children, both meridians",
    citation: "Jones and others, Invest Ophthalmol Vis Sci 2005;46:2317, abstract",
    of: "eye",
    categories: [
      {
        name: "hyperopia",
        when: {
          criterion: "hyperopia",
          quantity: "mostNegativeMeridian",
          eye: "right",
          relation: ">=",
          limit: 1,
        },
      },
      {
        name: "myopia",
        when: {
          criterion: "myopia",
          quantity: "mostPositiveMeridian",
          eye: "right",
          relation: "<=",
          limit: -0.75,
        },
      },
      {
        name: "emmetropia",
        when: {
          allOf: [
            {
              criterion: "refraction",
              quantity: "mostNegativeMeridian",
              eye: "right",
              relation: ">",
              limit: -0.25,
            },
            {
              criterion: "refraction",
              quantity: "mostPositiveMeridian",
              eye: "right",
              relation: "<",
              limit: 1,
            },
          ],
        },
      },
    ],
    note: "A limit on both meridians is one on the meridian that reaches it last.",
  },
  "school-children": {
    kind: "refraction-categories",
    id: "school-children",
    title: "Significant refractive error of school children",
    citation: "JAMA Ophthalmol, article 426044, legend of a figure; year not noted",
    of: "eye",
    categories: [
      { name: "hyperopia", when: ofEye.hyperopia(">=", 2) },
      { name: "myopia", when: ofEye.myopia("<=", -1) },
      { name: "astigmatism", when: cylinder("right", ">=", 1) },
    ],
    note: "Cylinder printed as -1.00 or more minus.",
  },
  "emmetropia-two-part": {
    kind: "refraction-categories",
    id: "emmetropia-two-part",
    title: "Emmetropia by equivalent and cylinder",
    citation: "PMC8093534",
    of: "eye",
    categories: [
      {
        name: "emmetropia",
        when: {
          allOf: [
            {
              criterion: "refraction",
              quantity: "M",
              eye: "right",
              range: { ">": -0.5, "<": 0.5 },
            },
            cylinder("right", "<=", 0.75),
          ],
        },
      },
    ],
  },
} as const satisfies { readonly [id: string]: RefractionCategories };
