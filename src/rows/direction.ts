import { InputError } from "../results/index.js";

/** Which end of the scale speaks for the condition; never guessed. */
export type PositiveWhen = "high" | "low";

/** Refuses what is neither end; `option` is the name that the caller gave it. */
export function requireDirection(
  caller: string,
  value: PositiveWhen,
  option = "positiveWhen",
): PositiveWhen {
  if (value !== "high" && value !== "low") {
    throw new InputError(`${caller} requires ${option}: "high" or "low", got ${String(value)}`);
  }
  return value;
}
