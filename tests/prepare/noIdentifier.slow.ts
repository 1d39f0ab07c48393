// The short form of noIdentifier.long.ts.
import { expect, it } from "vitest";
import { fuzzLayouts } from "./mutatedLayouts.js";
import { fuzz } from "./noIdentifier.js";

it.each([
  ["one layout", fuzz],
  ["all layouts of the corpus", fuzzLayouts],
])(
  "mutated files of %s: no raw identifier outside the key table, and no error but one in words",
  async (_, run) => {
    const { mutations, written, leaks, unhandled } = await run(50, 22);
    expect([...leaks, ...unhandled]).toEqual([]);
    expect(written).toBeGreaterThan(mutations / 4);
  },
  600_000,
);
