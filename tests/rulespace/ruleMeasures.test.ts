import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { crossClassify } from "../../src/accuracy/index.js";
import { type MeasurementStatus, measurementStatuses } from "../../src/cohort/index.js";
import type { UndecidablePolicy } from "../../src/rows/index.js";
import { applyRule, defineRule, type RuleColumns } from "../../src/rules/index.js";
import { bestRule } from "../../src/rulespace/bestRule.js";
import { limitsOfRule, ruleAt } from "../../src/rulespace/ruleAt.js";
import { ruleFrontsByAgeBand } from "../../src/rulespace/ruleFrontsByAgeBand.js";
import { ruleMeasures } from "../../src/rulespace/ruleMeasures.js";
import { ruleSpace } from "../../src/rulespace/ruleSpace.js";
import { searchRules } from "../../src/rulespace/searchRules.js";
import { sensitivityByCondition } from "../../src/rulespace/sensitivityByCondition.js";
import { streamRules } from "../../src/rulespace/streamRules.js";
import { wrong } from "../builders/wrong.js";

/** In steps of a 16th, and of a thousandth and a half, so that roundings and ties occur. */
const power = fc.oneof(
  fc.integer({ min: -48, max: 48 }).map((steps) => steps / 16),
  fc.integer({ min: -2000, max: 2000 }).map((steps) => steps * 0.0015),
);
const eye = fc.oneof(
  { weight: 6, arbitrary: fc.record({ sphere: power, cylinder: power }) },
  {
    weight: 3,
    arbitrary: fc.record({
      status: fc.constantFrom("unreadable", "over-range", "under-range", "not-attempted"),
    }),
  },
  { weight: 1, arbitrary: fc.constant({}) },
  { weight: 2, arbitrary: fc.constant(null) },
);
type Eye = { sphere?: number; cylinder?: number; status?: MeasurementStatus } | null;
interface Child {
  readonly right: Eye;
  readonly left: Eye;
  readonly sick: boolean;
}
const cohorts = fc.array(fc.record({ right: eye, left: eye, sick: fc.boolean() }), {
  minLength: 1,
  maxLength: 30,
}) as fc.Arbitrary<Child[]>;

const off = Number.POSITIVE_INFINITY;
const limits = {
  hyperopia: [0.5, 1.125, 2, off],
  myopia: [0.25, 1, off],
  astigmatism: [0.5, 1.5, off],
  anisometropia: [0.375, 1, off],
};

/** Rows an eye, the left eyes after the right ones; a child without an eye has no row of it. */
function asRows(children: readonly Child[]) {
  const eyes = [...children.map(({ right }) => right), ...children.map(({ left }) => left)];
  const labels = [...measurementStatuses];
  return {
    measurements: {
      sphere: eyes.map((one) => one?.sphere ?? Number.NaN),
      cylinder: eyes.map((one) => one?.cylinder ?? Number.NaN),
      status: {
        codes: eyes.map((one) => labels.indexOf(one?.status ?? "measured")),
        labels,
      },
    },
    rows: {
      right: children.map(({ right }, child) => (right === null ? -1 : child)),
      left: children.map(({ left }, child) => (left === null ? -1 : children.length + child)),
    },
  };
}

function asColumns(children: readonly Child[]): RuleColumns {
  const side = (name: "right" | "left") => ({
    sphere: Float64Array.from(children, (child) => child[name]?.sphere ?? Number.NaN),
    cylinder: Float64Array.from(children, (child) => child[name]?.cylinder ?? Number.NaN),
    axis: new Float64Array(children.length).fill(90),
    status: Uint8Array.from(children, (child) =>
      child[name] === null ? 255 : measurementStatuses.indexOf(child[name]!.status ?? "measured"),
    ),
  });
  return { kind: "rule-columns", n: children.length, right: side("right"), left: side("left") };
}

/** The joint rule as a referral rule; null where every criterion is off. */
function ruleOf(written: { readonly [criterion: string]: number | null }) {
  const referWhen = Object.entries(written).flatMap(([criterion, limit]) =>
    limit === null
      ? []
      : [
          {
            criterion,
            quantity: criterion === "astigmatism" ? "cylinder" : "M",
            eye: criterion === "anisometropia" ? "pair" : "either",
            relation: criterion === "myopia" ? "<=" : ">=",
            limit: criterion === "myopia" ? -limit : limit,
          },
        ],
  );
  if (referWhen.length === 0) return null;
  const words = { kind: "rule", id: "own", title: "Own", definition: "own", appliesTo: "reading" };
  return defineRule({ ...words, referWhen });
}

const policies = ["refer", "pass", "exclude"] as const;

function spaceData(children: readonly Child[]) {
  const { measurements, rows } = asRows(children);
  return {
    measures: ruleMeasures(measurements, rows),
    atLeast: ruleMeasures(measurements, rows, { eyes: "present" }),
    condition: children.map(({ sick }) => sick),
    limits,
  };
}

describe("ruleMeasures", () => {
  it("makes the rule space decide as applyRule, with one eye, none, or one beyond the range", () => {
    let compared = 0;
    fc.assert(
      fc.property(cohorts, fc.constantFrom<UndecidablePolicy>(...policies), (children, policy) => {
        const data = spaceData(children);
        const columns = asColumns(children);
        const space = ruleSpace(data, { undecidable: policy });
        for (let at = compared % 5; at < space.ruleCount; at += 5) {
          const written = limitsOfRule(space, at);
          const rule = ruleOf(written);
          if (rule === null) continue;
          const { decision } = applyRule(rule, columns);
          const test = Array.from(decision.codes, (code) => decision.labels[code]!);
          expect(ruleAt(space, written), JSON.stringify([written, children])).toEqual(
            crossClassify({ test, reference: data.condition }, { undecidable: policy }),
          );
          compared++;
        }
      }),
      { numRuns: 300, seed: 41 },
    );
    expect(compared).toBeGreaterThan(5000);
  });

  it("refers one eye across a limit although the other is missing, and leaves the rest open", () => {
    const children = [
      { right: { sphere: 2, cylinder: 0 }, left: null, sick: true },
      { right: { sphere: 1, cylinder: 0 }, left: null, sick: true },
    ];
    const table = (policy: UndecidablePolicy) => {
      const { truePositive, falseNegative } = ruleAt(
        ruleSpace(spaceData(children), { undecidable: policy }),
        { hyperopia: 2, myopia: off, astigmatism: off, anisometropia: off },
      );
      return [truePositive, falseNegative];
    };
    expect(policies.map(table)).toEqual([
      [2, 0],
      [1, 1],
      [1, 0],
    ]);
  });

  it("is taken alike by the search, the stream, the bands and the shares by condition", async () => {
    const drawn = fc.sample(fc.record({ right: eye, left: eye, sick: fc.boolean() }), {
      numRuns: 400,
      seed: 8,
    }) as Child[];
    // a condition that the eyes tell something about
    const children = drawn.map((child) => ({
      ...child,
      sick: child.sick && Math.abs(child.right?.sphere ?? child.left?.sphere ?? 3) > 0.8,
    }));
    const data = spaceData(children);
    for (const unreadable of policies) {
      const constraints = { specificityAtLeast: 0.4 };
      const space = ruleSpace(data, { undecidable: unreadable });
      const best = bestRule(space, constraints);
      const search = await searchRules(data, {
        constraints,
        undecidable: unreadable,
        folds: 3,
        repeats: 1,
        replicates: 5,
        seed: 1,
      });
      const stream = await streamRules(data, { constraints, undecidable: unreadable });
      if (best.kind !== "best-rule" || stream.best.kind !== "best-rule") throw new Error("no rule");
      expect(search.limits).toEqual(best.limits);
      expect(search.table).toEqual(best.table);
      expect(stream.best.table).toEqual(best.table);
      const shares = sensitivityByCondition(
        { ...data, conditions: { sick: data.condition } },
        best.limits,
        { undecidable: unreadable },
      ).conditions[0]!;
      expect(shares.referred).toBe(best.table.truePositive);
      expect(shares.n - shares.referred).toBe(best.table.falseNegative);
      const bands = ruleFrontsByAgeBand(
        { ...data, ageMonths: children.map(() => 40) },
        { bands: [{ fromMonths: 36, toMonths: 72 }], undecidable: unreadable },
      );
      const points = bands.bands[0]!.front.points;
      expect(points.some(({ sensitivity }) => sensitivity === best.sensitivity)).toBe(true);
    }
  });

  it("rounds to 0.001 as applyRule, halves upwards", () => {
    const { hyperopia, anisometropia } = ruleMeasures(
      { sphere: [3.4995, 3.4994], cylinder: [0, 0] },
      { right: [0, 1], left: [0, 1] },
    );
    expect([...hyperopia]).toEqual([3.5, 3.499]);
    expect([...anisometropia]).toEqual([0, 0]);
  });

  it("says what is wrong", () => {
    const eyes = { sphere: [1], cylinder: [0] };
    expect(() => ruleMeasures(eyes, { right: [0], left: [] })).toThrow(/got 1 and 0/);
    expect(() => ruleMeasures(eyes, { right: [0], left: [0] }, { eyes: wrong("worse") })).toThrow(
      /eyes "both" or "present", got worse/,
    );
    const data = spaceData([{ right: null, left: null, sick: true }]);
    const { hyperopia, ...others } = data.atLeast;
    expect(() => ruleSpace({ ...data, atLeast: others }, { undecidable: "pass" })).toThrow(
      /requires atLeast and limits with the same keys/,
    );
    const short = { ...data.atLeast, hyperopia: hyperopia.subarray(1) };
    expect(() => ruleSpace({ ...data, atLeast: short }, { undecidable: "pass" })).toThrow(
      /columns of one length, got 0 atLeast of hyperopia for 1 rows/,
    );
  });
});
