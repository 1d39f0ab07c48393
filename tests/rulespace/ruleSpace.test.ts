import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { UndecidablePolicy } from "../../src/rows/index.js";
import { bestRule } from "../../src/rulespace/bestRule.js";
import { paretoFront } from "../../src/rulespace/paretoFront.js";
import { limitsOfRule, ruleAt, tableOfRule } from "../../src/rulespace/ruleAt.js";
import { ruleSpace } from "../../src/rulespace/ruleSpace.js";

interface Problem {
  measures: { [criterion: string]: number[] };
  limits: { [criterion: string]: number[] };
  condition: boolean[];
  weights: number[] | undefined;
  unreadable: UndecidablePolicy;
}

/** By definition: every rule against every child, three-valued. */
function bruteForce(problem: Problem, rule: { [criterion: string]: number | null }) {
  const table = { truePositive: 0, falsePositive: 0, falseNegative: 0, trueNegative: 0 };
  problem.condition.forEach((sick, child) => {
    let crossed = false;
    let missing = false;
    for (const [criterion, written] of Object.entries(rule)) {
      if (written === null) continue;
      const value = problem.measures[criterion][child];
      if (Number.isNaN(value)) missing = true;
      else if (value >= written) crossed = true;
    }
    const decision = crossed ? "refer" : missing ? problem.unreadable : "pass";
    if (decision === "exclude") return;
    const weight = problem.weights?.[child] ?? 1;
    if (decision === "refer") table[sick ? "truePositive" : "falsePositive"] += weight;
    else table[sick ? "falseNegative" : "trueNegative"] += weight;
  });
  return table;
}

const problems: fc.Arbitrary<Problem> = fc
  .record({
    criteria: fc.integer({ min: 1, max: 6 }),
    children: fc.integer({ min: 1, max: 25 }),
    seed: fc.infiniteStream(fc.integer({ min: -3, max: 4 })),
    off: fc.boolean(),
    weighted: fc.boolean(),
    unreadable: fc.constantFrom<UndecidablePolicy>("refer", "pass", "exclude"),
  })
  .map(({ criteria, children, seed, off, weighted, unreadable }) => {
    const next = () => seed.next().value as number;
    const names = ["a", "b", "c", "d", "e", "f"].slice(0, criteria);
    const value = () => {
      const drawn = next();
      return drawn === 4 ? Number.NaN : drawn === 3 ? Number.POSITIVE_INFINITY : drawn;
    };
    return {
      measures: Object.fromEntries(
        names.map((name) => [name, Array.from({ length: children }, value)]),
      ),
      limits: Object.fromEntries(
        names.map((name) => [name, off ? [-1, 0.5, 2, Number.POSITIVE_INFINITY] : [-1, 0, 2]]),
      ),
      condition: Array.from({ length: children }, () => next() > 0),
      weights: weighted ? Array.from({ length: children }, () => next() + 3) : undefined,
      unreadable,
    };
  });

describe("ruleSpace", () => {
  it("equals a loop over rules and children, with ties, missing values and weights", () => {
    fc.assert(
      fc.property(problems, (problem) => {
        const space = ruleSpace(problem, { undecidable: problem.unreadable });
        for (let rule = 0; rule < space.ruleCount; rule += 7) {
          const limits = limitsOfRule(space, rule);
          expect(tableOfRule(space, rule)).toEqual(bruteForce(problem, limits));
          expect(ruleAt(space, limits)).toEqual(tableOfRule(space, rule));
        }
      }),
      { numRuns: 200, seed: 12 },
    );
  });

  it("never passes fewer when a limit rises", () => {
    fc.assert(
      fc.property(problems, (problem) => {
        const {
          withCondition,
          limits,
          criteria,
          ruleCount: rules,
        } = ruleSpace(problem, {
          undecidable: problem.unreadable === "exclude" ? "pass" : problem.unreadable,
        });
        let stride = rules;
        for (const criterion of criteria) {
          stride /= limits[criterion].length;
          for (let rule = 0; rule < rules; rule++) {
            if (Math.floor(rule / stride) % limits[criterion].length === 0) continue;
            expect(withCondition.passed[rule]).toBeGreaterThanOrEqual(
              withCondition.passed[rule - stride],
            );
          }
        }
      }),
      { numRuns: 50, seed: 3 },
    );
  });

  it("finds the front and the best rule that a search over all rules finds", () => {
    fc.assert(
      fc.property(problems, fc.constantFrom(0, 0.5, 0.9), (problem, specificityAtLeast) => {
        const sick = problem.condition.filter(
          (value, child) => value && (problem.weights?.[child] ?? 1) > 0,
        );
        const healthy = problem.condition.filter(
          (value, child) => !value && (problem.weights?.[child] ?? 1) > 0,
        );
        fc.pre(sick.length > 0 && healthy.length > 0);
        const space = ruleSpace(problem, { undecidable: problem.unreadable });
        const rates = Array.from({ length: space.ruleCount }, (_, rule) => {
          const { truePositive, falsePositive, falseNegative, trueNegative } = bruteForce(
            problem,
            limitsOfRule(space, rule),
          );
          return {
            sensitivity: truePositive / (truePositive + falseNegative),
            specificity: trueNegative / (trueNegative + falsePositive),
          };
        }).filter((rate) => !Number.isNaN(rate.sensitivity) && !Number.isNaN(rate.specificity));
        const beaten = (one: (typeof rates)[number]) =>
          rates.some(
            (other) =>
              other.sensitivity >= one.sensitivity &&
              other.specificity >= one.specificity &&
              (other.sensitivity > one.sensitivity || other.specificity > one.specificity),
          );
        const expected = new Set(
          rates.filter((one) => !beaten(one)).map((one) => `${one.sensitivity} ${one.specificity}`),
        );
        const found = paretoFront(space).points.map(
          (one) => `${one.sensitivity} ${one.specificity}`,
        );
        expect(new Set(found)).toEqual(expected);
        expect(found.length).toBe(expected.size);
        const best = bestRule(space, { specificityAtLeast: specificityAtLeast });
        const allowed = rates.filter((one) => one.specificity >= specificityAtLeast);
        if (best.kind === "undefined") expect(allowed.length).toBe(0);
        else expect(best.sensitivity).toBe(Math.max(...allowed.map((one) => one.sensitivity)));
      }),
      { numRuns: 150, seed: 5 },
    );
  });

  it("says what is wrong", () => {
    const data = {
      measures: { a: [1, Number.NaN] },
      condition: [true, false],
      limits: { a: [1, 2] },
    };
    expect(() => ruleSpace(data)).toThrow(/requires undecidable/);
    expect(() => ruleSpace({ ...data, limits: { a: [2, 1] } })).toThrow(/ascending limits of a/);
    expect(() => ruleSpace({ ...data, limits: { b: [2] } })).toThrow(/same keys/);
    expect(() =>
      bestRule(ruleSpace(data, { undecidable: "pass" }), { specificityAtLeast: 2 }),
    ).toThrow(/between 0 and 1/);
  });
});
