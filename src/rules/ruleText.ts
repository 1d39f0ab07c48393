import { limitWords, type Relation } from "../rows/index.js";
import { criteria, quantityWords } from "./criteria.js";
import type { EyeLogic, RuleLimit } from "./types.js";

const eyeWords: Readonly<Record<EyeLogic, string>> = {
  either: "in either eye",
  both: "in both eyes",
  worse: "in the worse eye",
  "lesser-error": "in the eye with the lesser value (by size)",
  "greatest-error": "in the eye with the greater value (by size)",
  right: "in the right eye",
  left: "in the left eye",
  pair: "between the eyes",
};

/** A limit in words that a clinician can check, such as "hyperopia: most positive meridian > +3.50 D in either eye". */
export function limitText(limit: RuleLimit): string {
  const facts = criteria[limit.criterion];
  const eye = eyeWords[eyeOf(limit)];
  if (facts.unit === "yes/no") return `${facts.words}: ${limit.is ? "yes" : "no"} ${eye}`;
  const quantity = quantityWords[limit.quantity!];
  const mirrored = limit.mirror ? ", left eye mirrored" : "";
  const off =
    limit.degreesOff === undefined
      ? ""
      : `, axis more than ${limit.degreesOff} degrees from 90 and from 180`;
  return `${facts.words}: ${quantity}${mirrored} ${comparison(limit)} ${eye}${off}`;
}

/** The comparison alone, such as "> +3.50 D" or "> +3.25 D and < +5.00 D". */
export function comparison(limit: RuleLimit): string {
  if (limit.is !== undefined) return limit.is ? "yes" : "no";
  const { unit, unsigned } = criteria[limit.criterion];
  const ends: Partial<Record<Relation, number>> =
    limit.relation === undefined ? limit.range! : { [limit.relation]: limit.limit! };
  return ([">=", ">", "<=", "<"] as const)
    .flatMap((relation) => {
      const end = ends[relation];
      if (end === undefined) return [];
      return limitWords({ relation, limit: end }, { unit, signed: !unsigned, least: 2 });
    })
    .join(" and ");
}

export function eyeOf(limit: RuleLimit): EyeLogic {
  return limit.eye ?? (criteria[limit.criterion].eyes[0] === "pair" ? "pair" : "either");
}

/** Whose value is compared, in words. */
export function eyeText(limit: RuleLimit): string {
  return eyeWords[eyeOf(limit)];
}

export function bandText(band: readonly [number, number | null] | null): string {
  if (band === null) return "every age";
  const [from, to] = band;
  return to === null ? `${from} months and over` : `${from} to ${to - 1} completed months`;
}
