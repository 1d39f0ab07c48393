import { expect, test } from "vitest";
import { createRandom } from "../../src/inference/index.js";
import { simulateCohort } from "../../src/simulation/index.js";

test("the same seed gives the same cohort, another seed another", async () => {
  const first = await simulateCohort({ children: 500, seed: 3 });
  const again = await simulateCohort({ children: 500, seed: 3 });
  const other = await simulateCohort({ children: 500, seed: 4 });
  expect(again).toEqual(first);
  expect(other.readings.sphere).not.toEqual(first.readings.sphere);
});

test("adding children does not change the others", async () => {
  const few = await simulateCohort({ children: 9000, seed: 3 });
  const many = await simulateCohort({ children: 9500, seed: 3 });
  expect(many.readings.sphere.slice(0, few.readings.n)).toEqual(few.readings.sphere);
  expect(many.truth.latent.left.M.slice(0, 9000)).toEqual(few.truth.latent.left.M);
  expect(many.findings.sphere.slice(0, few.findings.n)).toEqual(few.findings.sphere);
});

test("a restarted sequence equals a fresh one", () => {
  const random = createRandom(5);
  random.normal();
  random.restart(8, 3);
  const fresh = createRandom(8, 3);
  for (let draw = 0; draw < 100; draw++) {
    expect(random.normal()).toBe(fresh.normal());
    expect(random.uniform()).toBe(fresh.uniform());
  }
});
