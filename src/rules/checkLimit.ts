import { isOnGrid } from "../rows/index.js";
import { criteria } from "./criteria.js";
import type { Mistake } from "./mistake.js";
import type { ReferralRule, RuleLimit } from "./types.js";

/** What is wrong with one limit. */
export function checkLimit(
  limit: RuleLimit,
  path: readonly PropertyKey[],
  appliesTo: ReferralRule["appliesTo"],
): Mistake[] {
  const mistakes: Mistake[] = [];
  const say = (key: string, message: string) =>
    mistakes.push({ path: key === "" ? path : [...path, key], message });
  const facts = criteria[limit.criterion];
  if (!facts.of.includes(appliesTo)) {
    say("criterion", `a ${appliesTo} has no ${facts.words}; it belongs to a ${facts.of[0]}`);
  }
  const eye = limit.eye;
  if (eye === undefined) {
    if (facts.eyes[0] !== "pair") say("", `an eye is required: ${facts.eyes.join(", ")}`);
  } else if (!facts.eyes.includes(eye)) {
    say("eye", `${facts.words} takes ${facts.eyes.join(", ")}, not "${eye}"`);
  }
  if (facts.unit === "yes/no") {
    if (limit.is === undefined) say("", `${facts.words} requires is: true or is: false`);
    for (const key of ["quantity", "relation", "limit", "range"] as const) {
      if (limit[key] !== undefined) say(key, `${facts.words} is yes or no and has no ${key}`);
    }
  } else {
    if (limit.is !== undefined) say("is", `${facts.words} is a quantity, not yes or no`);
    if (limit.quantity === undefined) {
      say("", `a quantity is required: ${facts.quantities.join(", ")}`);
    } else if (!facts.quantities.includes(limit.quantity)) {
      say(
        "quantity",
        `${facts.words} takes ${facts.quantities.join(", ")}, not "${limit.quantity}"`,
      );
    }
    checkNumbers(limit, say);
  }
  if ((limit.degreesOff !== undefined) !== (limit.criterion === "obliqueAstigmatism")) {
    say("degreesOff", "degreesOff goes with obliqueAstigmatism, which requires it");
  }
  const mirrored = ["J45", "greatestMeridian", "vector"];
  if (
    limit.mirror !== undefined &&
    !(limit.criterion === "anisometropia" && mirrored.includes(limit.quantity ?? ""))
  ) {
    say("mirror", `mirror goes with anisometropia by ${mirrored.join(", ")}`);
  }
  return mistakes;
}

function checkNumbers(limit: RuleLimit, say: (key: string, message: string) => void): void {
  const { relation, range } = limit;
  if (range === undefined) {
    if (relation === undefined) say("", "a relation is required: >, >=, < or <=, or a range");
    if (limit.limit === undefined) say("", "a limit is required");
    else if (!isOnGrid(limit.limit)) say("limit", `${limit.limit} is finer than 0.001`);
    return;
  }
  if (relation !== undefined || limit.limit !== undefined) {
    say("range", "a range stands alone, without relation and limit");
  }
  const lower = [range[">"], range[">="]].filter((value) => value !== undefined);
  const upper = [range["<"], range["<="]].filter((value) => value !== undefined);
  if (lower.length !== 1 || upper.length !== 1) {
    say("range", "a range requires one of > and >= and one of < and <=");
    return;
  }
  for (const value of [...lower, ...upper]) {
    if (!isOnGrid(value)) say("range", `${value} is finer than 0.001`);
  }
  if (lower[0] > upper[0]) say("range", `the range is reversed: from ${lower[0]} to ${upper[0]}`);
}
