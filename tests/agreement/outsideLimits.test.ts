import { expect, test } from "vitest";
import { outsideLimits } from "../../src/agreement/limits/outsideLimits.js";
import { clustersOf } from "../../src/rows/index.js";

test("a difference of exactly a limit is inside, with and without subjects", () => {
  const differences = Float64Array.of(0, 1, 2, 3, 4, 2, 1, 3);
  const pairs = { test: differences, reference: new Float64Array(8) };
  const far = { lowest: 0, highest: 4, differences };
  for (const subjects of [undefined, clustersOf("test", [1, 1, 2, 2, 3, 3, 4, 4], 8)]) {
    const { below, above, share } = outsideLimits(pairs, far, [1, 3], 0.95, subjects);
    expect([below, above, share.value]).toEqual([1, 1, 2 / 8]);
  }
});
