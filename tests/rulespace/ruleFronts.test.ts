import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { crossClassify } from "../../src/accuracy/crossClassify.js";
import { createRandom } from "../../src/inference/random.js";
import { applyRule } from "../../src/rules/applyRule.js";
import { defineRule } from "../../src/rules/defineRule.js";
import { bestRule } from "../../src/rulespace/bestRule.js";
import { bestOfBands, mergeFronts } from "../../src/rulespace/mergeFronts.js";
import { paretoFront, rulePoint } from "../../src/rulespace/paretoFront.js";
import { placeRules } from "../../src/rulespace/placeRules.js";
import { limitsOfRule, ruleAt, tableOfRule } from "../../src/rulespace/ruleAt.js";
import { ruleFrontsByAgeBand } from "../../src/rulespace/ruleFrontsByAgeBand.js";
import { ruleSpace } from "../../src/rulespace/ruleSpace.js";
import { ruleSpaceSize } from "../../src/rulespace/ruleSpaceSize.js";

function invented(n: number, seed: number) {
  const random = createRandom(seed);
  const condition = Array.from(
    { length: n },
    (_, at) => at < 2 || (at > 3 && random.uniform() < 0.3),
  );
  const values = () => condition.map((sick) => random.integer(4) + (sick ? 1 : 0));
  return {
    measures: { a: values(), b: values() },
    condition,
    ageMonths: condition.map((_, at) => (at % 2 === 0 ? 40 : 80)),
    limits: { a: [1, 2, 4, Infinity], b: [1, 3, 4] },
  };
}

const costs = { prevalence: 0.1, costOfMiss: 8, costOfFalseReferral: 1 };

/** Of pairs (high is better in both), those that none beats, as a set of texts. */
function unbeaten(pairs: readonly (readonly [number, number])[]): Set<string> {
  const round = (pair: readonly [number, number]) =>
    pair.map((x) => Number(x.toFixed(10))) as [number, number];
  const all = pairs.map(round);
  return new Set(
    all.filter(([x, y]) => !all.some(([u, v]) => u >= x && v >= y && (u > x || v > y))).map(String),
  );
}

describe("fronts", () => {
  it("of specificity, referral rate and cost are those of a search over all rules", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 10_000 }), (seed) => {
        const space = ruleSpace(invented(30, seed));
        const all = Array.from({ length: space.ruleCount }, (_, rule) => tableOfRule(space, rule));
        for (const [against, gain] of [
          ["specificity", (p: Point) => p.specificity],
          ["referralRate", (p: Point) => -p.referralRate],
          [{ cost: costs }, (p: Point) => -cost(p)],
        ] as const) {
          const pairs = all
            .map((table) => rulePoint({}, table))
            .map((p) => [p.sensitivity, gain(p)] as const);
          const found = paretoFront(space, { against }).points;
          const own = found.map((p) =>
            [p.sensitivity, gain(p)].map((x) => Number(x.toFixed(10))).join(),
          );
          expect(new Set(own)).toEqual(unbeaten(pairs));
          expect(own.length).toBe(new Set(own).size);
        }
      }),
      { numRuns: 100, seed: 8 },
    );
  });

  it("best rule by Youden index and by cost, under every constraint, is that of a search", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 10_000 }),
        fc.constantFrom(0.2, 0.4, 1),
        fc.constantFrom(1, 2, 4),
        (seed, referralRateAtMost, highest) => {
          const space = ruleSpace(invented(30, seed));
          const admitted = Array.from({ length: space.ruleCount }, (_, rule) =>
            rulePoint(limitsOfRule(space, rule), tableOfRule(space, rule)),
          ).filter(
            ({ referralRate, limits }) =>
              referralRate <= referralRateAtMost + 1e-12 && (limits.a ?? Infinity) <= highest,
          );
          const constraints = { referralRateAtMost, limitAtMost: { a: highest } };
          const youden = bestRule(space, { goal: "youden", ...constraints });
          const cheapest = bestRule(space, { goal: { leastCost: costs }, ...constraints });
          if (youden.kind === "undefined" || cheapest.kind === "undefined") {
            expect(admitted).toEqual([]);
            return;
          }
          const index = (p: Point) => p.sensitivity + p.specificity;
          expect(index(youden)).toBeCloseTo(Math.max(...admitted.map(index)), 12);
          expect(cost(cheapest)).toBeCloseTo(Math.min(...admitted.map(cost)), 12);
        },
      ),
      { numRuns: 100, seed: 9 },
    );
  });

  it("of age bands, merged, are those of all combinations of limits", () => {
    const bands = [
      { fromMonths: 36, toMonths: 72 },
      { fromMonths: 72, toMonths: 96 },
    ];
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 10_000 }),
        fc.constantFrom<"specificity" | "referralRate">("specificity", "referralRate"),
        (seed, against) => {
          const data = invented(40, seed);
          const merged = mergeFronts(ruleFrontsByAgeBand(data, { bands, against }));
          const spaces = bands.map(({ fromMonths }) => {
            const rows = data.ageMonths.flatMap((age, row) =>
              (age === 40) === (fromMonths === 36) ? [row] : [],
            );
            const take = <T>(list: readonly T[]) => rows.map((row) => list[row]!);
            return ruleSpace({
              measures: { a: take(data.measures.a), b: take(data.measures.b) },
              condition: take(data.condition),
              limits: data.limits,
            });
          });
          const [young, old] = spaces as [(typeof spaces)[0], (typeof spaces)[0]];
          const all: Point[] = [];
          for (let one = 0; one < young.ruleCount; one++) {
            for (let other = 0; other < old.ruleCount; other++) {
              const [x, y] = [tableOfRule(young, one), tableOfRule(old, other)];
              all.push(
                rulePoint(
                  {},
                  {
                    truePositive: x.truePositive + y.truePositive,
                    falsePositive: x.falsePositive + y.falsePositive,
                    falseNegative: x.falseNegative + y.falseNegative,
                    trueNegative: x.trueNegative + y.trueNegative,
                  },
                ),
              );
            }
          }
          const gain = (p: Point) => (against === "specificity" ? p.specificity : -p.referralRate);
          const own = merged.points.map((p) =>
            [p.sensitivity, gain(p)].map((x) => Number(x.toFixed(10))).join(),
          );
          expect(new Set(own)).toEqual(unbeaten(all.map((p) => [p.sensitivity, gain(p)] as const)));
          expect(merged.combinations).toBe(144);
          for (const { limits, table } of merged.points) {
            const tables = limits.map((list, band) => ruleAt(spaces[band]!, list));
            expect(tables[0]!.truePositive + tables[1]!.truePositive).toBe(table.truePositive);
          }
          const constraints =
            against === "specificity" ? { specificityAtLeast: 0.7 } : { referralRateAtMost: 0.4 };
          const best = bestOfBands(merged, constraints);
          const admitted = all.filter((p) =>
            against === "specificity" ? p.specificity >= 0.7 : p.referralRate <= 0.4,
          );
          if (best.kind === "undefined") expect(admitted).toEqual([]);
          else expect(best.sensitivity).toBe(Math.max(...admitted.map((p) => p.sensitivity)));
        },
      ),
      { numRuns: 60, seed: 10 },
    );
  });

  it("a rule read off the space is the rule applied to each child and cross-classified", () => {
    const random = createRandom(20261125);
    const eye = () => ({
      sphere: random.integer(33) / 4 - 3,
      cylinder: -random.integer(9) / 4,
      axis: 1 + random.integer(180),
    });
    const children = Array.from({ length: 300 }, () => ({ right: eye(), left: eye() }));
    const condition = children.map(({ right }) => right.sphere + random.normal() > 3);
    const either = (of: (eye: { sphere: number; cylinder: number }) => number) =>
      children.map(({ right, left }) => Math.max(of(right), of(left)));
    const measures = {
      hyperopia: either(({ sphere, cylinder }) => sphere + cylinder / 2),
      astigmatism: either(({ cylinder }) => -cylinder),
    };
    const space = ruleSpace({
      measures,
      condition,
      limits: { hyperopia: [2, 2.5, 3, 3.5], astigmatism: [1, 1.5, 2, Infinity] },
    });
    for (const [hyperopia, astigmatism] of [
      [2.5, 1.5],
      [3, 1],
      [3.5, null],
    ] as const) {
      const rule = defineRule({
        kind: "rule",
        id: "grid-rule",
        title: "A rule of the grid",
        definition: "own",
        appliesTo: "reading",
        referWhen: [
          {
            criterion: "hyperopia",
            quantity: "M",
            eye: "either",
            relation: ">=",
            limit: hyperopia,
          },
          ...(astigmatism === null
            ? []
            : [
                {
                  criterion: "astigmatism",
                  quantity: "cylinder",
                  eye: "either",
                  relation: ">=",
                  limit: astigmatism,
                },
              ]),
        ],
      });
      const test = children.map((child) => applyRule(rule, child).decision === "refer");
      const table = crossClassify({ test, reference: condition });
      expect(ruleAt(space, { hyperopia, astigmatism })).toEqual(table);
      const [placed] = placeRules(paretoFront(space), { "grid rule": table }).rules;
      expect(placed!.sensitivityGained).toBeGreaterThanOrEqual(0);
    }
    const half = { truePositive: 1, falsePositive: 1, falseNegative: 1, trueNegative: 1 };
    expect(() => placeRules(paretoFront(space), { half })).toThrow(/front's own rows/);
  });

  it("says what a grid would take before it is taken", () => {
    const limits = { a: Array.from({ length: 400 }, (_, at) => at), b: [1, 2] };
    expect(ruleSpaceSize(limits)).toMatchObject({ ruleCount: 800, bytes: 6400, fits: true });
    expect(ruleSpaceSize(limits, { weighted: true, undecidable: true }).bytes).toBe(25_600);
  });
});

type Point = Pick<ReturnType<typeof rulePoint>, "sensitivity" | "specificity" | "referralRate">;

function cost({ sensitivity, specificity }: Point): number {
  return 0.1 * (1 - sensitivity) * 8 + 0.9 * (1 - specificity);
}
