import type { AgeUnit, FindingBlock, ReadingBlock } from "../columnMapping.js";
import type { NumberRule } from "./readCells.js";

/** What each numeric column can be; the limits without a source are common practice. */
const rules = {
  sphere: { low: -40, high: 40, rule: "sphere-range" },
  cylinder: { low: -20, high: 20, rule: "cylinder-range" },
  axis: { low: 0, high: 180, rule: "axis-range" },
  age: { low: 0, high: 120, rule: "age-range" },
  day: { low: -100_000, high: 100_000, unbounded: true, rule: "value-range" },
  repeat: { low: 1, high: 1000, rule: "value-range" },
  confidenceScore: { low: -1e9, high: 1e9, unbounded: true, rule: "value-range" },
  pupilMm: { low: 0.5, high: 12, rule: "value-range" },
  gazeHorizontal: { low: -90, high: 90, rule: "value-range" },
  gazeVertical: { low: -90, high: 90, rule: "value-range" },
  interpupillaryMm: { low: 20, high: 90, rule: "value-range" },
  statedEquivalent: { low: -50, high: 50, rule: "sphere-range" },
  acuity: { low: 0.01, high: 2000, rule: "acuity-unknown" },
} as const satisfies Record<string, Omit<NumberRule, "key">>;

export type NumberKey = Exclude<keyof typeof rules, "age">;
export const numberKeys = Object.keys(rules).filter((key) => key !== "age") as NumberKey[];

/** The rule of an age column. */
export function ageRule(unit: AgeUnit): NumberRule {
  const high = unit === "months" || unit === "years-and-months" ? 1440 : 120;
  return { ...rules.age, key: "age", high };
}

/** The rule of a numeric column under a block of a mapping. */
export function numberRule(key: NumberKey, block: ReadingBlock | FindingBlock): NumberRule {
  const rule = { ...rules[key], key };
  if (key === "confidenceScore" && "confidenceScale" in block && block.confidenceScale) {
    const [low, high] = block.confidenceScale;
    return { ...rule, low, high, unbounded: false };
  }
  if (key !== "acuity") return rule;
  const notation = "acuity" in block ? (block.acuity ?? "logMAR") : "logMAR";
  if (notation === "logMAR") return { ...rule, low: -0.5, high: 3 };
  return notation === "decimal"
    ? rule
    : { ...rule, otherwise: (text) => denominatorOf(text, snellenDistance[notation]) };
}

/** The test distance that a Snellen denominator goes with: 20 feet, 6 metres. */
export const snellenDistance = { "snellen-feet": 20, "snellen-metres": 6 } as const;

/** The denominator of a fraction over the declared distance, such as 9 of "6/9"; NaN for anything else. */
function denominatorOf(text: string, distance: number): number {
  const [, numerator, denominator] = /^(\d+) ?\/ ?(\d+(?:[.,]\d+)?)$/.exec(text) ?? [];
  return Number(numerator) === distance ? Number(denominator.replace(",", ".")) : Number.NaN;
}
