import fc from "fast-check";
import { expect, test } from "vitest";
import {
  childValues,
  eyePairs,
  linkCohort,
  readFindings,
  readReadings,
  type SourceRow,
} from "../../src/cohort/index.js";

const eye = (subject: string, side: string): SourceRow => ({
  subject,
  eye: side,
  sphere: side === "OD" ? 1 : 2,
  cylinder: 0,
  axis: 0,
});
const children = 400;
const rows = Array.from({ length: children }, (_, child) => [
  eye(`c${child}`, "OD"),
  eye(`c${child}`, "OS"),
]).flat();

/** The drawn sphere by child. */
async function drawn(order: readonly SourceRow[], seed: number) {
  const cohort = linkCohort({
    readings: await readReadings(order),
    findings: await readFindings(order),
  });
  const pairs = eyePairs(cohort, { eyes: "random", seed });
  expect(pairs.n).toBe(pairs.children);
  expect(childValues(cohort, { eye: "random", seed }).test).toEqual(pairs.test);
  return Object.fromEntries(
    [...pairs.test].map((value, at) => [cohort.children.subject[pairs.subjects[at]], value]),
  );
}

test("one eye a child, half of them right, another seed another choice", async () => {
  const one = await drawn(rows, 1);
  expect(Object.keys(one)).toHaveLength(children);
  const right = Object.values(one).filter((value) => value === 1).length;
  // four standard deviations of a binomial of 400 halves: 40
  expect(Math.abs(right - 200)).toBeLessThan(40);
  const two = await drawn(rows, 2);
  const same = Object.keys(one).filter((child) => one[child] === two[child]).length;
  expect(Math.abs(same - 200)).toBeLessThan(40);
});

test("the same eyes for any order of rows, and when other children are missing", async () => {
  const all = await drawn(rows, 7);
  await fc.assert(
    fc.asyncProperty(
      fc.shuffledSubarray(
        Array.from({ length: children }, (_, child) => child),
        { minLength: 1 },
      ),
      async (kept) => {
        const some = kept.flatMap((child) => [rows[2 * child + 1], rows[2 * child]]);
        const found = await drawn(some, 7);
        expect(found).toEqual(Object.fromEntries(kept.map((c) => [`c${c}`, all[`c${c}`]])));
      },
    ),
    { numRuns: 10, seed: 1 },
  );
});

test("the only complete eye is taken; without a seed it is refused", async () => {
  expect(await drawn([eye("a", "OS")], 3)).toEqual({ a: 2 });
  const one = [eye("a", "OD")];
  const cohort = linkCohort({
    readings: await readReadings(one),
    findings: await readFindings(one),
  });
  expect(() => eyePairs(cohort, { eyes: "random" })).toThrow("requires a seed");
});
