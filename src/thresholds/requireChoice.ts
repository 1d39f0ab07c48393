import { InputError } from "../results/index.js";

/** One of a list of words. */
export function requireChoice(
  caller: string,
  name: string,
  choices: readonly string[],
  got: string,
): void {
  if (!choices.includes(got)) {
    const list = choices.map((choice) => `"${choice}"`).join(" or ");
    throw new InputError(`${caller} requires ${name}: ${list}, got ${JSON.stringify(got)}`);
  }
}
