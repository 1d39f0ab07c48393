import { isDeepStrictEqual } from "node:util";
import { expect } from "vitest";

/** As `expect(found).toEqual(wanted)`, quick for hundreds of thousands of numbers. */
export function expectEqual(found: unknown, wanted: unknown): void {
  if (!isDeepStrictEqual(found, wanted)) expect(found).toEqual(wanted);
}
