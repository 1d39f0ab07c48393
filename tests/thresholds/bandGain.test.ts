import { expect, test } from "vitest";
import { createRandom } from "../../src/inference/random.js";
import { thresholdsByAgeBand } from "../../src/thresholds/index.js";

test("the gain is that of own cut-offs over the common one that is printed, by definition", async () => {
  const random = createRandom(31);
  const values: number[] = [];
  const condition: number[] = [];
  const ageMonths: number[] = [];
  for (let row = 0; row < 240; row++) {
    const old = row % 2;
    const has = Number(random.uniform() < 0.4);
    values.push(Math.round(4 * (old + 1.5 * has + random.normal())) / 4);
    condition.push(has);
    ageMonths.push(old ? 84 : 48);
  }
  const found = await thresholdsByAgeBand(
    { values, condition, ageMonths },
    {
      positiveWhen: "high",
      criterion: "youden",
      seed: 1,
      replicates: 20,
      folds: 2,
      repeats: 1,
      nested: { outer: 0, inner: 0 },
      permutations: 19,
      bands: [
        { fromMonths: 36, toMonths: 72 },
        { fromMonths: 72, toMonths: 96 },
      ],
    },
  );
  const youden = (cutOff: number, rows: number[]) => {
    const share = (has: number, holds: (value: number) => boolean) => {
      const own = rows.filter((row) => condition[row] === has);
      return own.filter((row) => holds(values[row])).length / own.length;
    };
    return share(1, (value) => value >= cutOff) + share(0, (value) => value < cutOff) - 1;
  };
  const gain = found.bands.reduce((sum, { choice }, at) => {
    const rows = values.flatMap((_, row) => (ageMonths[row] === (at === 0 ? 48 : 84) ? [row] : []));
    const own = youden(choice.cutOff!, rows) - youden(found.common.cutOff!, rows);
    return sum + (rows.length / 240) * own;
  }, 0);
  expect(found.oneForAll.gain).toBeCloseTo(gain, 12);
  expect(gain).toBeGreaterThan(0);
});
