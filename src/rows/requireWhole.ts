import { InputError } from "../results/index.js";

/** A whole number of at least `least`. */
export function requireWhole(caller: string, name: string, value: number, least: number): void {
  if (!Number.isSafeInteger(value) || value < least) {
    throw new InputError(`${caller} requires ${name} of at least ${least}, got ${value}`);
  }
}
