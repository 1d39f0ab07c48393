import { InputError } from "../results/index.js";

/** The level of an interval, checked: a number strictly between 0 and 1. */
export function requireLevel(caller: string, level: number): number {
  if (!(level > 0 && level < 1)) {
    throw new InputError(`${caller} requires a level between 0 and 1, got ${level}`);
  }
  return level;
}
