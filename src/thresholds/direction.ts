import { InputError } from "../results/index.js";

/** Which end of the scale speaks for the condition; never guessed. */
export type PositiveWhen = "high" | "low";

export function requireDirection(caller: string, positiveWhen: PositiveWhen): PositiveWhen {
  if (positiveWhen !== "high" && positiveWhen !== "low") {
    throw new InputError(
      `${caller} requires positiveWhen: "high" or "low", got ${String(positiveWhen)}`,
    );
  }
  return positiveWhen;
}
