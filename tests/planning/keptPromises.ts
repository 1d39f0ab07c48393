import { readFileSync } from "node:fs";
import { expect } from "vitest";
import type { Promised } from "../coverage/planning/promises.js";

export const promisesFile = new URL("../coverage/planning/promises.json", import.meta.url);

/** The long study, as it is committed. */
export const kept: readonly Promised[] = JSON.parse(readFileSync(promisesFile, "utf8")).rows;

/** Exact under their assumptions; the others are approximate, with the room they need. */
const room: { readonly [what: string]: number } = {
  "power, area above": 0.02,
  "power, two areas": 0.02,
  "coverage, half-width, wilson": 0.02,
  "coverage, partial verification": 0.015,
  "coverage, half-width of an area": 0.01,
};

export function keeps({ name, what, said, found, error }: Promised, errors: number): void {
  const message = `${what}, ${name}: said ${said}, found ${found}`;
  const within = errors * error + (room[`${what}, ${name}`] ?? 0);
  if (what === "mean half-width") {
    // at the expected value the interval is a little wider than on average, or as wide
    expect(found, message).toBeLessThan(said * 1.03);
    expect(found, message).toBeGreaterThan(said * 0.93);
  } else if (name === "half-width, clopper-pearson" && what === "coverage") {
    expect(found, message).toBeGreaterThan(said - within);
  } else {
    expect(Math.abs(found - said), message).toBeLessThan(within);
  }
}
