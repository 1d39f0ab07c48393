import { bench, describe } from "vitest";
import { createRandom } from "../../src/inference/index.js";
import { simulateCohort, simulateTruth } from "../../src/simulation/index.js";

// Wanted: 1,000,000 children in at most 20 times the time of filling as many Float64 values as the
// cohort holds (32 million in its columns) from the same generator. Once each: a run takes seconds.
const children = 1_000_000;
const once = { iterations: 1, warmupIterations: 0, warmupTime: 0, time: 0 };
const { readings, findings } = await simulateCohort({ children: 1000, seed: 1 });
const values = Math.round((readings.n * 7 + findings.n * 5) * (children / 1000) + 12 * children);

describe("1,000,000 children", () => {
  bench(
    `fill ${values} Float64 values`,
    () => {
      const random = createRandom(1);
      const filled = new Float64Array(values);
      for (let index = 0; index < values; index++) filled[index] = random.uniform();
    },
    once,
  );
  bench(
    "simulateCohort",
    async () => {
      await simulateCohort({ children, seed: 1 });
    },
    once,
  );
  bench(
    "simulateTruth, which keeps no child",
    async () => {
      await simulateTruth({ children, seed: 1 });
    },
    once,
  );
});
