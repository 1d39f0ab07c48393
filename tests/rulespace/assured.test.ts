import { expect, test } from "vitest";
import { createRandom } from "../../src/inference/random.js";
import { assuredChoice, widestLayer } from "../../src/rulespace/assuredRules.js";
import { searchRules } from "../../src/rulespace/index.js";
import { chooseThreshold } from "../../src/thresholds/index.js";

test("the widest layer, against every set of rules of small grids of which no two are ordered", () => {
  for (const sizes of [[5], [2, 2], [2, 3], [3, 3], [2, 2, 2]]) {
    const rules = sizes.reduce<number[][]>(
      (found, size) =>
        found.flatMap((rule) => Array.from({ length: size }, (_, place) => [...rule, place])),
      [[]],
    );
    const ordered = (one: number[], other: number[]) =>
      one.every((place, at) => place <= other[at]) || one.every((place, at) => place >= other[at]);
    let most = 0;
    for (let subset = 0; subset < 2 ** rules.length; subset++) {
      const chosen = rules.filter((_, at) => (subset >> at) & 1);
      if (chosen.length <= most) continue;
      const free = chosen.every((one, at) => chosen.slice(at + 1).every((b) => !ordered(one, b)));
      if (free) most = chosen.length;
    }
    expect(widestLayer(sizes), sizes.join(" x ")).toBe(most);
  }
  // 3,528 rules: the most of one sum of places
  const sums = new Map<number, number>();
  for (let rule = 0; rule < 12 * 7 * 6 * 7; rule++) {
    const places = [rule % 12, Math.floor(rule / 12) % 7, Math.floor(rule / 84) % 6];
    const sum = places.reduce((total, place) => total + place, Math.floor(rule / 504));
    sums.set(sum, (sums.get(sum) ?? 0) + 1);
  }
  expect(widestLayer([12, 7, 6, 7])).toBe(Math.max(...sums.values()));
});

const options = { constraint: "assured", seed: 1, replicates: 20, repeats: 1, folds: 2 } as const;

/** Two measures of 400 children, one in four with the condition; without it both are normal. */
function rows(seed: number, stream: number) {
  const random = createRandom(seed, stream);
  const condition = Array.from({ length: 400 }, (_, row) => (row % 4 === 0 ? 1 : 0));
  const measure = () => condition.map((has) => 1.4 * has + random.normal());
  const limits = [0.5, 0.75, 1, 1.25, 1.5, 1.75, 2, 2.5, 3];
  return { measures: { a: measure(), b: measure() }, condition, limits: { a: limits, b: limits } };
}

test("one criterion: the rate demanded is that of chooseThreshold", async () => {
  const { measures, condition, limits } = rows(5, 0);
  const rule = await searchRules(
    { measures: { a: measures.a }, condition, limits: { a: limits.a } },
    { ...options, constraints: { specificityAtLeast: 0.85 } },
  );
  const cutOff = await chooseThreshold(
    { values: measures.a, condition },
    {
      ...options,
      positiveWhen: "high",
      criterion: { specificityAtLeast: 0.85 },
      cutOffs: limits.a,
      nested: { outer: 0, inner: 0 },
    },
  );
  expect(rule.constraint).toMatchObject({ compared: 1, mode: "assured", children: 300 });
  expect(rule.constraint?.demanded).toBe(cutOff.constraint?.demanded);
  expect(rule.limits.a).toBe(cutOff.cutOff);
});

test("the promise is kept in new children, where the observed constraint breaks it", async () => {
  // P(a < x and b < y), both standard normal, by the error function of the table below
  const below = (limit: number | null) => (limit === null ? 1 : normal[limit]);
  let [assured, observed] = [0, 0];
  const runs = 60;
  for (let run = 0; run < runs; run++) {
    const data = rows(6, run);
    for (const constraint of ["assured", "observed"] as const) {
      const { limits } = await searchRules(data, {
        ...options,
        constraint,
        replicates: 2,
        constraints: { specificityAtLeast: 0.85 },
      });
      const kept = below(limits.a) * below(limits.b) >= 0.85;
      if (constraint === "assured") assured += Number(kept);
      else observed += Number(kept);
    }
  }
  expect(assured / runs).toBeGreaterThanOrEqual(0.95);
  expect(observed / runs).toBeLessThan(0.85);
});

/** Standard normal probabilities below each limit (any table). */
const normal: Record<number, number> = {
  0.5: 0.691462,
  0.75: 0.773373,
  1: 0.841345,
  1.25: 0.89435,
  1.5: 0.933193,
  1.75: 0.959941,
  2: 0.97725,
  2.5: 0.99379,
  3: 0.99865,
};

test("nothing to promise, children too few, or rows not decided: refused", async () => {
  const data = rows(7, 0);
  const search = (more: object) => searchRules(data, { ...options, ...more });
  await expect(search({})).rejects.toThrow("got neither");
  await expect(
    search({ constraints: { specificityAtLeast: 0.8, sensitivityAtLeast: 0.5 } }),
  ).rejects.toThrow("got both");
  await expect(search({ constraints: { specificityAtLeast: 0.99 } })).rejects.toThrow(
    "to assure a specificity of 0.99, got 300",
  );
  await expect(
    search({ constraint: "promised", constraints: { specificityAtLeast: 0.8 } }),
  ).rejects.toThrow('"observed" or "assured", got "promised"');
  const choice = {
    goal: "sensitivity",
    specificityAtLeast: 0.8,
    sensitivityAtLeast: 0,
    referralRateAtMost: 1,
    allowed: [3, 3],
  } as const;
  const made = assuredChoice("searchRules", choice, { sensitivity: 50, specificity: 200 }, 0.95);
  expect(made.compared).toBe(3);
  expect(made.choice.specificityAtLeast).toBe(made.demanded);
});
