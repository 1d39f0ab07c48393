// What a plan says of its own number: it stays enough for 50 more, and one child fewer is not enough.
import { describe, expect, it } from "vitest";
import {
  type AccuracyStudy,
  type AgreementStudy,
  type AreaStudy,
  planAccuracyStudy,
  planAgreementStudy,
  planAreaStudy,
} from "../../src/planning/index.js";
import { chanceOfRows } from "../../src/planning/jointGoals.js";

const from = (first: number, count: number) => Array.from({ length: count }, (_, k) => first + k);
const half = (part: unknown) => {
  const { kind, low, high } = part as { kind: string; low: number; high: number };
  expect(kind).toBe("estimate");
  return (high - low) / 2;
};

const agreementStudies: AgreementStudy[] = [
  { expected: { sd: 0.5, bias: -0.1 }, aim: { within: 1.5, power: 0.8 } },
  { expected: { sd: 0.5, bias: 0.2 }, aim: { within: 1.4, power: 0.9 }, interval: "approximate" },
  {
    expected: { sd: 0.001129, bias: 0.001167 },
    aim: { within: 0.004, power: 0.8 },
    interval: "lu-2016",
  },
  { expected: { sd: 0.5 }, aim: { within: 1.3, power: 0.8 }, coverage: 0.9, level: 0.9 },
  { expected: { sd: 0.5 }, aim: { halfWidth: 0.15 } },
  { expected: { sd: 0.5 }, aim: { halfWidth: 0.15 }, interval: "approximate" },
  { expected: { sd: 0.4 }, aim: { repeats: 3, relativeHalfWidth: 0.15 } },
  { expected: { sd: 0.4 }, aim: { repeats: 2, relativeHalfWidth: 0.2 }, interval: "approximate" },
];

describe.each(agreementStudies)("agreement: %j", (study) => {
  it.each([0, 0.13])("n to n + 50 are enough, n - 1 is not, with %d lost", (lost) => {
    const n = planAgreementStudy({ ...study, lost }).n as number;
    const { table, wanted } = planAgreementStudy({ ...study, lost, at: from(n - 1, 52) });
    const enough = table.map(({ power, halfWidth }) =>
      "power" in study.aim
        ? power! >= study.aim.power
        : "halfWidth" in study.aim
          ? halfWidth! <= wanted
          : halfWidth! <= study.aim.relativeHalfWidth,
    );
    expect(enough).toEqual([false, ...Array(51).fill(true)]);
  });
});

const second = { area: 0.78, correlation: 0.5 };
const areaStudies: AreaStudy[] = (["binormal", "obuchowski", "hanley-mcneil"] as const).flatMap(
  (variance): AreaStudy[] => [
    { expected: { area: 0.85, prevalence: 0.2 }, aim: { halfWidth: 0.06 }, variance },
    { expected: { area: 0.85, prevalence: 0.2 }, aim: { above: 0.75, power: 0.8 }, variance },
    {
      expected: { area: 0.85, prevalence: 0.3 },
      aim: { above: 0.7, power: 0.9 },
      test: "null-variance",
      variance,
    },
    {
      expected: { area: 0.85, prevalence: 0.3, second },
      aim: { differencePower: 0.8 },
      variance,
    },
    {
      expected: { area: 0.85, prevalence: 0.3, second },
      aim: { differencePower: 0.8 },
      test: "null-variance",
      variance,
    },
  ],
);

describe.each(areaStudies)("area: %j", (study) => {
  it.each([0, 0.13])("n to n + 50 are enough, n - 1 is not, with %d lost", (lost) => {
    const n = planAreaStudy({ ...study, lost }).n as number;
    const { table, wantedPower } = planAreaStudy({ ...study, lost, at: from(n - 1, 52) });
    const enough = table.map(({ area, power }) =>
      "halfWidth" in study.aim ? half(area) <= study.aim.halfWidth : power! >= wantedPower!,
    );
    expect(enough).toEqual([false, ...Array(51).fill(true)]);
  });
});

/** P(X >= least), X binomial, summed from the definition. */
function binomialTail(n: number, share: number, least: number): number {
  let [term, sum] = [n * Math.log1p(-share), 0];
  for (let k = 0; k <= n; k++) {
    if (k >= least) sum += Math.exp(term);
    term += Math.log((n - k) / (k + 1)) + Math.log(share / (1 - share));
  }
  return sum;
}

describe("assurance", () => {
  const expected = { sensitivity: 0.9, specificity: 0.85, prevalence: 0.08 };
  it.each([
    [0.8, 0],
    [0.9, 0],
    [0.9, 0.1],
    [0.95, 0.1],
  ])("%d with %d lost: reached at n, and not at n - 1", (assurance, lost) => {
    const study: AccuracyStudy = { expected, lost, aim: { halfWidth: { sensitivity: 0.08 } } };
    const plan = planAccuracyStudy({ ...study, assurance });
    const n = plan.n as number;
    const rows = plan.needs[0]!.rowCount as number;
    // children with the condition and a usable reading are binomial
    const chance = (children: number) =>
      binomialTail(children, expected.prevalence * (1 - lost), rows);
    expect(plan.chanceOfEnough!).toBeCloseTo(chance(n), 9);
    expect(chance(n)).toBeGreaterThanOrEqual(assurance);
    expect(chance(n - 1)).toBeLessThan(assurance);
    for (const more of [1, 10, 50]) expect(chance(n + more)).toBeGreaterThan(chance(n));
  });

  it("rows with and without the condition at once: reached at n, and not at n - 1", () => {
    const study: AccuracyStudy = {
      expected: { ...expected, prevalence: 0.5 },
      lost: 0.1,
      aim: { halfWidth: { sensitivity: 0.07, specificity: 0.08 } },
    };
    const plan = planAccuracyStudy({ ...study, assurance: 0.9 });
    const [withCondition, withoutCondition] = plan.needs.map(
      ({ rowCount: rows }) => rows as number,
    );
    const chance = (children: number) =>
      chanceOfRows(
        children,
        { prevalence: 0.5, lost: 0.1 },
        { withCondition: withCondition!, withoutCondition: withoutCondition! },
      );
    expect(chance(plan.n as number)).toBeGreaterThanOrEqual(0.9);
    expect(chance((plan.n as number) - 1)).toBeLessThan(0.9);
  });
});
