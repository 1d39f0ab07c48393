import { noiseOf, toThousandths, withoutNoise } from "./dioptres.js";
import { fixed } from "./numberWords.js";

/** How a value is compared with a limit. */
export type Relation = ">" | ">=" | "<" | "<=";

/** A limit on one quantity, as protocols and rules hold it in JSON. */
export interface Limit {
  readonly relation: Relation;
  readonly limit: number;
}

/** Whether a value meets a limit, both in whole thousandths. NaN meets none. */
export function meets(value: number, { relation, limit }: Limit): boolean {
  const past = toThousandths(value) - toThousandths(limit);
  switch (relation) {
    case ">":
      return past > 0;
    case ">=":
      return past >= 0;
    case "<":
      return past < 0;
    case "<=":
      return past <= 0;
  }
}

/**
 * Whether a value is at a cut-off or beyond it, but for binary noise: for values of any unit, such as
 * scores, whose step nobody knows. Dioptres are compared by `meets`.
 */
export function reaches(value: number, cutOff: number, positiveWhen: "high" | "low"): boolean {
  return positiveWhen === "high"
    ? value >= cutOff - noiseOf(cutOff)
    : value <= cutOff + noiseOf(cutOff);
}

/** Which end of the quantity a limit is about. */
export function directionOf({ relation }: Pick<Limit, "relation">): "high" | "low" {
  return relation.startsWith(">") ? "high" : "low";
}

/** Whether a value at the limit itself does not meet it. */
export const isStrict = ({ relation }: Pick<Limit, "relation">): boolean => !relation.endsWith("=");

/** The limit of "at least as suspicious as this value", strict where a value at it is not. */
export function limitAt(
  limit: number,
  positiveWhen: "high" | "low",
  { strict = false }: { readonly strict?: boolean } = {},
): Limit {
  const sign = positiveWhen === "high" ? ">" : "<";
  return { relation: strict ? sign : `${sign}=`, limit };
}

interface QuantityWords {
  readonly unit?: string;
  /** A plus before what is above 0: where values have a sign, not where they are sizes. */
  readonly signed?: boolean;
  /** The fewest decimals: two in dioptres, else none. */
  readonly least?: number;
}

/** "<= -0.625 D", or "M > +3.50 D" with the quantity: how a limit reads wherever it is printed. */
export function limitWords(
  { quantity, relation, limit }: Limit & { readonly quantity?: string },
  words: QuantityWords = {},
): string {
  const text = `${relation} ${quantityText(limit, { signed: true, ...words })}`;
  return quantity === undefined ? text : `${quantity} ${text}`;
}

/**
 * A number with its unit, true to what was stated: as many decimals as it has, three at most, since
 * nothing finer is compared. "-0.625 D", "8 mm".
 */
export function quantityText(
  value: number,
  { unit = "D", signed = false, least = unit === "D" ? 2 : 0 }: QuantityWords = {},
): string {
  const own = String(withoutNoise(value)).split(".")[1]?.length ?? 0;
  const text = fixed(value, Math.max(least, Math.min(3, own)));
  return `${signed && value > 0 ? "+" : ""}${text}${unit === "" ? "" : ` ${unit}`}`;
}
