import { randomBytes, randomInt } from "node:crypto";

/** A whole number from 0 to below `below`, each as likely; not to be foretold. */
export function secretInteger(below: number): number {
  return randomInt(below);
}

/** Random bytes in hexadecimal, two digits each; not to be foretold. */
export function secretHex(bytes: number): string {
  return randomBytes(bytes).toString("hex");
}
