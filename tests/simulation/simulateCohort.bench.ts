import { createRequire } from "node:module";
import { bench, describe } from "vitest";

// Wanted: 1,000,000 children in at most 20 times the time of filling as many Float64 values as the
// cohort's columns hold (counted below) from the same generator. The build is timed, as a user runs
// it: the test runner's own loader turns each imported name into a look-up and triples the time.
const require = createRequire(import.meta.url);
const { createRandom } =
  require("../../dist/inference/index.js") as typeof import("../../src/inference/index.js");
const { simulateCohort, simulateTruth } =
  require("../../dist/simulation/index.js") as typeof import("../../src/simulation/index.js");

const children = 1_000_000;
const few = { iterations: 3, warmupIterations: 0, warmupTime: 0, time: 0 };
const values = floatsIn(await simulateCohort({ children: 10_000, seed: 1 })) * (children / 10_000);

describe("1,000,000 children", () => {
  bench(
    `fill ${values} Float64 values`,
    () => {
      const random = createRandom(1);
      const filled = new Float64Array(values);
      for (let index = 0; index < values; index++) filled[index] = random.uniform();
    },
    few,
  );
  bench(
    "simulateCohort",
    async () => {
      await simulateCohort({ children, seed: 1 });
    },
    few,
  );
  bench(
    "simulateTruth, which keeps no child",
    async () => {
      await simulateTruth({ children, seed: 1 });
    },
    few,
  );
});

function floatsIn(value: unknown): number {
  if (value instanceof Float64Array) return value.length;
  if (value === null || typeof value !== "object" || ArrayBuffer.isView(value)) return 0;
  return Object.values(value).reduce((sum: number, part) => sum + floatsIn(part), 0);
}
