// The short form of noIdentifier.long.ts.
import { expect, it } from "vitest";
import { fuzz } from "./noIdentifier.js";

it("mutated files: no raw identifier outside the key table, and no error but one in words", async () => {
  const { mutations, written, leaks, unhandled } = await fuzz(50, 22);
  expect([...leaks, ...unhandled]).toEqual([]);
  expect(written).toBeGreaterThan(mutations / 4);
}, 600_000);
