import { InputError } from "../results/index.js";

/** A whole number, of at least `least` where one is given. */
export function requireWhole(caller: string, name: string, value: number, least?: number): void {
  if (Number.isSafeInteger(value) && (least === undefined || value >= least)) return;
  const bound = least === undefined ? "" : ` of at least ${least}`;
  throw new InputError(`${caller} requires ${name} as a whole number${bound}, got ${value}`);
}
