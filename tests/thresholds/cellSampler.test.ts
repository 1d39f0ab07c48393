import fc from "fast-check";
import { expect, it } from "vitest";
import { createRandom } from "../../src/inference/random.js";
import { unitSampler } from "../../src/inference/resampling/drawUnits.js";
import { cellCounter, cellSampler } from "../../src/inference/resampling/replicateCounts.js";
import { prepareRows } from "../../src/thresholds/prepareRows.js";

const row = fc.record({
  value: fc.integer({ min: 0, max: 6 }),
  condition: fc.boolean(),
  subject: fc.integer({ min: 0, max: 40 }),
  examined: fc.boolean(),
  stratum: fc.integer({ min: 0, max: 1 }),
});

it("what is added up as it is drawn equals what is drawn and then counted", () => {
  fc.assert(
    fc.property(
      fc.array(row, { minLength: 0, maxLength: 120 }),
      fc.boolean(),
      fc.boolean(),
      fc.integer(),
      (some, paired, partial, seed) => {
        // both classes, and an examined row in every stratum
        const rows = [
          ...some,
          ...[0, 1].flatMap((stratum) =>
            [true, false].map((condition) => ({
              value: 3,
              condition,
              subject: 50 + stratum,
              examined: true,
              stratum,
            })),
          ),
        ];
        const prepared = prepareRows(
          "test",
          {
            values: rows.map(({ value }) => value),
            condition: rows.map(({ condition }) => condition),
            subjects: paired ? rows.map((_, at) => at >> 1) : rows.map(({ subject }) => subject),
            ...(partial
              ? {
                  verification: {
                    examined: rows.map(({ examined }) => examined),
                    strata: rows.map(({ stratum }) => stratum),
                  },
                }
              : {}),
          },
          "high",
        );
        const draw = unitSampler(prepared.units);
        const count = cellCounter(prepared.units);
        const sample = cellSampler(prepared.units);
        const drawn = new Int32Array(prepared.units.counts.length);
        for (let stream = 0; stream < 3; stream++) {
          draw(createRandom(seed, stream), drawn);
          expect(sample(createRandom(seed, stream))).toEqual(count(drawn));
        }
      },
    ),
    { numRuns: 100, seed: 1 },
  );
});
