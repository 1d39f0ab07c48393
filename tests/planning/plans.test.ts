import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { correctByDecision, correctVerification } from "../../src/accuracy/index.js";
import { agreementPower, plannedFactors } from "../../src/planning/agreementPower.js";
import { exponentialVariance, obuchowskiVariance } from "../../src/planning/areaVariance.js";
import { expectedInterval, halfWidthOf } from "../../src/planning/expectedInterval.js";
import { type Goal, goalPower, rowsForGoal } from "../../src/planning/goalPower.js";
import {
  planAccuracyStudy,
  planAgreementStudy,
  planAreaStudy,
  planStudy,
  planTable,
} from "../../src/planning/index.js";
import { jointGoals } from "../../src/planning/jointGoals.js";
import { verifiedPrecision } from "../../src/planning/verifiedPrecision.js";

// Made by scipy alone (reference.py) and by base R (area.R); the commands stand in those files.
const read = (name: string) =>
  JSON.parse(readFileSync(new URL(`../reference/planning/${name}`, import.meta.url), "utf8"));
const scipy = read("reference.json");
const r = read("area.json");
const expected = { sensitivity: 0.9, specificity: 0.85, prevalence: 0.2 };

describe("published", () => {
  it("Buderer 1996: 173 for sensitivity, 62 for specificity (seen in a secondary source)", () => {
    const plan = planAccuracyStudy({
      expected,
      aim: { halfWidth: { sensitivity: 0.1, specificity: 0.1 } },
      interval: "wald",
    });
    expect(plan.needs.map(({ n, rowCount: rows }) => [n, rows])).toEqual([
      [173, 35],
      [62, 49],
    ]);
    expect(plan.n).toBe(173);
  });

  it("Lu and others 2016: 83 (recalled), 82 having .7998; our exact interval needs 97", () => {
    const study = {
      expected: { bias: 0.001167, sd: 0.001129 },
      aim: { within: 0.004, power: 0.8 },
      at: [82, 83],
    };
    const lu = planAgreementStudy({ ...study, interval: "lu-2016" });
    expect(lu.n).toBe(83);
    expect(lu.table.map(({ power }) => power!.toFixed(4))).toEqual(["0.7998", "0.8043"]);
    expect(planAgreementStudy(study).n).toBe(97);
  });

  it("Bland: 1.96 sqrt(3/n) SD, .34 at 100 and .24 at 200 (recalled), is our approximate one rounded up", () => {
    for (const [n, printed] of [
      [100, 0.34],
      [200, 0.24],
    ] as const) {
      const row = planAgreementStudy({
        expected: { sd: 1 },
        aim: { halfWidth: 0.3 },
        interval: "approximate",
        at: [n],
      }).table[0]!;
      expect(row.halfWidth!).toBeCloseTo(printed, 2);
    }
  });

  it("precision of a within-subject SD: 1.96 / sqrt(2n(m - 1)) (seen in methods texts)", () => {
    const plan = planAgreementStudy({
      expected: { sd: 1 },
      aim: { repeats: 3, relativeHalfWidth: 0.1 },
      interval: "approximate",
    });
    expect(plan.n).toBe(Math.ceil(1.959963985 ** 2 / (4 * 0.01)));
  });

  it("Hanley and McNeil 1982: 897 a group for .70 against .75 (recalled), 898.6 by their formula", () => {
    const plan = planAreaStudy({
      expected: { area: 0.7, prevalence: 0.5, second: { area: 0.75, correlation: 0 } },
      aim: { differencePower: 0.9 },
      variance: "hanley-mcneil",
      test: "null-variance",
      level: 0.9,
    });
    // the paper rounds z; the small-sample part of the variance adds less than one
    expect(Math.abs((plan.n as number) / 2 - 897)).toBeLessThanOrEqual(2.5);
  });

  it("Obuchowski 1997 variance function (formula seen, values computed)", () => {
    const v = (area: number) => {
      const { ofCases, ofControls } = obuchowskiVariance(area, 1, 1);
      return ofCases + ofControls;
    };
    expect(v(0.7)).toBeCloseTo(0.145136229543319, 12);
    expect(v(0.8)).toBeCloseTo(0.119460678092402, 12);
    expect(v(0.5)).toBeCloseTo(0.0792 * 2, 12);
    // 13.39 cases a group: one-sided .05, power .9
    const plan = planAreaStudy({
      expected: { area: 0.8, prevalence: 0.5 },
      aim: { above: 0.5, power: 0.9 },
      variance: "obuchowski",
      test: "null-variance",
      level: 0.9,
    });
    expect(plan.n).toBe(Math.ceil(2 * 13.3855301336231));
  });
});

describe("against scipy and R", () => {
  it("exact power of a goal, and the number from which it stays", () => {
    for (const [n, share, minimum, level, interval, power] of scipy.goalPower) {
      expect(goalPower(n, { expected: share, minimum, level, interval })).toBeCloseTo(power, 9);
    }
    for (const [share, minimum, level, interval, power, n] of scipy.staying) {
      expect(rowsForGoal({ expected: share, minimum, level, interval }, power)).toBe(n);
    }
  });

  it("joint power of a cohort, summed over what it may hold", () => {
    for (const [
      n,
      se,
      sp,
      prevalence,
      lost,
      [minSe, minSp],
      level,
      interval,
      power,
    ] of scipy.joint) {
      const goal = (share: number, minimum: number): Goal => ({
        expected: share,
        minimum,
        level,
        interval,
      });
      const joint = jointGoals(
        { sensitivity: goal(se, minSe), specificity: goal(sp, minSp) },
        { prevalence, lost },
      );
      expect(joint(n)).toBeCloseTo(power, 9);
    }
  });

  it("half-widths at numbers that are not whole", () => {
    for (const [p, n, level, wilson, exact, wald] of scipy.halfWidth) {
      const at = (method: "wilson" | "clopper-pearson") =>
        halfWidthOf(expectedInterval(method, p, n, level));
      expect(at("wilson")).toBeCloseTo(wilson, 10);
      expect(at("clopper-pearson")).toBeCloseTo(exact, 8);
      const { low } = expectedInterval("wald", p, n, level);
      expect(p - low).toBeCloseTo(wald, 10);
    }
  });

  it("power of limits: both by integration, one by the noncentral t from which it hardly differs", () => {
    for (const [kind, n, bias, sd, within, factor, one, both] of scipy.agreement) {
      const { outer } = plannedFactors(kind, n, 0.95, 0.95);
      expect(outer).toBeCloseTo(factor, 8);
      const power = agreementPower(n, outer, { bias, sd, within });
      expect(power).toBeCloseTo(both, 8);
      expect(power).toBeLessThanOrEqual(one + 1e-9);
    }
  });

  it("repeats: the chi-square interval", () => {
    for (const [df, relative] of scipy.repeats) {
      const plan = planAgreementStudy({
        expected: { sd: 1 },
        aim: { repeats: df + 1, relativeHalfWidth: 0.5 },
        at: [2],
        ...(df > 99 ? { aim: { repeats: 2, relativeHalfWidth: 0.5 }, at: [df] } : {}),
      });
      const half = plan.table[0]!.halfWidth!;
      if (df > 99) expect(half).toBeCloseTo(relative, 8);
      else expect(half).toBeLessThan(relative);
    }
  });

  it("areas: uniroot", () => {
    const above = { expected: { area: 0.85, prevalence: 0.2 }, aim: { halfWidth: 0.05 } } as const;
    const variance = "obuchowski";
    expect(planAreaStudy({ ...above, variance }).n).toBe(Math.ceil(r.half));
    expect(
      planAreaStudy({
        expected: { area: 0.8, prevalence: 0.3 },
        aim: { above: 0.7, power: 0.8 },
        variance,
        test: "null-variance",
      }).n,
    ).toBe(Math.ceil(r.null));
    expect(
      planAreaStudy({
        expected: { area: 0.9, prevalence: 0.3, second: { area: 0.85, correlation: 0.5 } },
        aim: { differencePower: 0.8 },
        variance,
        test: "null-variance",
      }).n,
    ).toBe(Math.ceil(r.two));
    const se = (cases: number, controls: number) => {
      const { ofCases, ofControls } = exponentialVariance(0.8, cases, controls);
      return Math.sqrt(ofCases + ofControls);
    };
    // the small part counts A(1 - A) - Q1 - Q2 + 2A² once, as Hanley and McNeil's n - 1 do
    expect(se(50, 100)).toBeCloseTo(r.hanleySe, 10);
    expect(se(50, 50)).toBeCloseTo(r.hanleySe50, 10);
  });

  it("partial verification: the numbers of correctVerification, where the expected are whole", () => {
    const plan = verifiedPrecision(
      {
        sensitivity: 0.8,
        specificity: 0.9,
        prevalence: 0.1,
        screened: 4000,
        shareOfReferred: 0.75,
        shareOfPasses: 0.25,
      },
      0.95,
    );
    const corrected = correctVerification(
      {
        verified: { truePositive: 240, falsePositive: 270, falseNegative: 20, trueNegative: 810 },
        unverified: { testPositive: 170, testNegative: 2490 },
      },
      { method: "logit" },
    );
    for (const measure of ["sensitivity", "specificity"] as const) {
      for (const end of ["value", "low", "high"] as const) {
        expect(plan[measure][end]!).toBeCloseTo(corrected[measure][end]!, 12);
      }
    }
  });
});

describe("laws", () => {
  const rate = fc.double({ min: 0.6, max: 0.97, noNaN: true });
  const width = fc.double({ min: 0.03, max: 0.15, noNaN: true });

  it("a narrower interval never needs fewer children, and n stays enough for 50 more", () => {
    fc.assert(
      fc.property(
        rate,
        width,
        fc.constantFrom("wilson", "clopper-pearson"),
        (se, half, interval) => {
          const study = { expected: { ...expected, sensitivity: se }, interval } as const;
          const plan = (halfWidth: number, at?: number[]) =>
            planAccuracyStudy({ ...study, aim: { halfWidth: { sensitivity: halfWidth } }, at });
          const n = plan(half).n as number;
          expect(plan(half / 1.2).n as number).toBeGreaterThanOrEqual(n);
          const at = Array.from({ length: 51 }, (_, more) => n + more);
          for (const row of plan(half, at).table) {
            expect(halfWidthOf(row.sensitivity as never)).toBeLessThanOrEqual(half);
          }
          const before = plan(half, [n - 1]).table[0]!;
          expect(halfWidthOf(before.sensitivity as never)).toBeGreaterThan(half);
        },
      ),
      { numRuns: 40 },
    );
  });

  it("width is twice the half-width", () => {
    const by = (aim: Parameters<typeof planAccuracyStudy>[0]["aim"]) =>
      planAccuracyStudy({ expected, aim }).n;
    expect(by({ width: { sensitivity: 0.2 } })).toBe(by({ halfWidth: { sensitivity: 0.1 } }));
  });

  it("goals: more power never needs fewer, and power stays above for 50 more in spite of the saw", () => {
    let teeth = 0;
    for (const [se, minimum] of [
      [0.9, 0.8],
      [0.85, 0.7],
      [0.95, 0.88],
    ] as const) {
      for (const interval of ["wilson", "clopper-pearson"] as const) {
        const goal = { expected: se, minimum, interval, level: 0.95 };
        const sizes = [0.7, 0.8, 0.9].map((power) => rowsForGoal(goal, power)!);
        expect(sizes).toEqual(sizes.toSorted((a, b) => a - b));
        const n = sizes[1]!;
        for (let more = 0; more <= 50; more++) {
          expect(goalPower(n + more, goal)).toBeGreaterThanOrEqual(0.8);
        }
        expect(goalPower(n - 1, goal)).toBeLessThan(0.8);
        for (let rows = 1; rows < n; rows++) if (goalPower(rows, goal) >= 0.8) teeth++;
        const plan = (power: number, at?: number[]) =>
          planAccuracyStudy({
            expected: { ...expected, sensitivity: se },
            aim: { minimum: { sensitivity: minimum, specificity: 0.75 }, power },
            interval,
            lost: 0.05,
            at,
          });
        const children = plan(0.8).n as number;
        expect(plan(0.9).n as number).toBeGreaterThan(children);
        const at = Array.from({ length: 51 }, (_, k) => children + k);
        for (const row of plan(0.8, at).table) expect(row.power!).toBeGreaterThanOrEqual(0.8);
      }
    }
    // the saw is there: smaller numbers that would have been enough by themselves
    expect(teeth).toBeGreaterThan(10);
  });

  it("agreement and area: monotone in power and half-width, losses scale n", () => {
    const agreement = (power: number, lost = 0) =>
      planAgreementStudy({ expected: { sd: 0.5 }, aim: { within: 1.3, power }, lost }).n as number;
    expect(agreement(0.9)).toBeGreaterThan(agreement(0.8));
    expect(agreement(0.8, 0.2)).toBe(Math.ceil(agreement(0.8) / 0.8));
    const area = (halfWidth: number) =>
      planAreaStudy({ expected: { area: 0.85, prevalence: 0.2 }, aim: { halfWidth } }).n as number;
    expect(area(0.04)).toBeGreaterThan(area(0.05));
    const power = (correlation: number) =>
      planAreaStudy({
        expected: { area: 0.9, prevalence: 0.2, second: { area: 0.85, correlation } },
        aim: { differencePower: 0.8 },
      }).n as number;
    expect(power(0.6)).toBeLessThan(power(0.3));
  });

  it("assurance: the chance is reached, and not by one child fewer", () => {
    const by = (assurance?: number) =>
      planAccuracyStudy({ expected, aim: { halfWidth: { sensitivity: 0.1 } }, assurance });
    const plan = by(0.9);
    expect(plan.chanceOfEnough).toBeGreaterThanOrEqual(0.9);
    expect(by().chanceOfEnough!).toBeGreaterThan(0.4);
    expect(by().chanceOfEnough!).toBeLessThan(0.6);
    expect(plan.n as number).toBeGreaterThan(by().n as number);
  });

  it("two eyes: between one and two eyes' worth of a child", () => {
    const by = (correlation?: number) =>
      planAccuracyStudy({
        expected,
        aim: { halfWidth: { sensitivity: 0.05 } },
        eyes: correlation === undefined ? undefined : { perChild: 2, correlation },
      }).n as number;
    expect(by(1)).toBe(by());
    expect(by(0)).toBe(Math.ceil(by() / 2));
    expect(by(0.5)).toBeGreaterThan(by(0));
  });

  it("partial verification: the share found gives the half-width that was asked for", () => {
    const aim = { halfWidth: { sensitivity: 0.08 } };
    const cohort = { ...expected, prevalence: 0.1 };
    const given = planAccuracyStudy({ expected: cohort, aim, verification: { children: 3000 } });
    const share = given.shareOfPasses as number;
    const back = planAccuracyStudy({
      expected: cohort,
      aim,
      verification: { shareOfPasses: share },
    });
    expect(back.n as number).toBeLessThanOrEqual(3000);
    expect(back.n as number).toBeGreaterThan(2980);
  });

  it("partial verification: the interval of the report is that of correctByDecision on such children", () => {
    // 400 with the condition of 4,000: 360 referred, 40 missed; 720 others referred; a tenth of passes examined
    const plan = planAccuracyStudy({
      expected: { sensitivity: 0.9, specificity: 0.8, prevalence: 0.1 },
      at: [4000],
      aim: { halfWidth: { sensitivity: 0.5 } },
      verification: { children: 4000 },
    });
    const n = plan.n as number;
    const share = plan.shareOfPasses as number;
    const cases = Math.round(0.1 * n * 0.9);
    const referred = Math.round(0.1 * n * 0.9 + 0.9 * n * 0.2);
    const examined = Math.round((n - 0.1 * n * 0.9 - 0.9 * n * 0.2) * share);
    const missed = Math.round(0.1 * n * 0.1 * share);
    const rows = [
      ...Array(cases).fill(["refer", true]),
      ...Array(referred - cases).fill(["refer", false]),
      ...Array(missed).fill(["pass", true]),
      ...Array(examined - missed).fill(["pass", false]),
      ...Array(n - referred - examined).fill(["pass", null]),
    ];
    const { sensitivity } = correctByDecision(
      {
        recorded: rows.map(([decision]) => decision),
        test: rows.map(([decision]) => decision === "refer"),
        reference: rows.map(([, has]) => has),
        reason: rows.map(([decision, has]) =>
          has === null ? "not-examined" : decision === "refer" ? "referred" : "sampled",
        ),
      },
      { seed: 1, replicates: 4000 },
    );
    const said = plan.assumptions.find((words) => words.includes("by draws of the cells"))!;
    expect(said).toContain(`${sensitivity.low!.toFixed(3)} to ${sensitivity.high!.toFixed(3)}`);
  });
});

describe("no number", () => {
  it("says why", () => {
    const plans = [
      planAccuracyStudy({ expected, aim: { minimum: { sensitivity: 0.95 }, power: 0.8 } }),
      planAccuracyStudy({
        expected,
        aim: { halfWidth: { sensitivity: 0.01 } },
        verification: { children: 100 },
      }),
      planAccuracyStudy({ expected, at: [100] }),
      planAgreementStudy({ expected: { sd: 1 }, aim: { within: 1, power: 0.8 } }),
      planAreaStudy({ expected: { area: 0.7, prevalence: 0.2 }, aim: { above: 0.8, power: 0.8 } }),
      planAccuracyStudy({ expected, aim: { halfWidth: { sensitivity: 0.0001 } } }),
    ];
    const reasons = plans.map(({ n }) => (typeof n === "number" ? n : n.reason));
    expect(reasons).toEqual([
      expect.stringContaining("does not exceed the minimum"),
      expect.stringContaining("every pass examined"),
      expect.stringContaining("no precision and no power"),
      expect.stringContaining("do not lie within"),
      expect.stringContaining("does not exceed 0.8"),
      expect.stringContaining("not reached"),
    ]);
    for (const plan of plans) {
      expect(planTable(plan).title).toContain("no number of children");
      expect(JSON.stringify(plan)).not.toContain("NaN");
      expect(JSON.parse(JSON.stringify(plan))).toEqual(plan);
    }
  });

  it.each([
    [
      { kind: "accuracy", expected: { ...expected, prevalence: 2 }, at: [9] },
      /expected.prevalence: requires a number above 0 and below 1, got 2/,
    ],
    [
      { kind: "accuracy", expected, aim: { halfwidth: 1 } },
      /planAccuracyStudy requires a valid plan, got .*Unrecognized key: "halfwidth"/,
    ],
    [{ kind: "accuracy", expected }, /an aim, or the numbers/],
    [
      {
        kind: "accuracy",
        expected,
        aim: { minimum: { sensitivity: 0.8 }, power: 0.8 },
        assurance: 0.9,
      },
      /without assurance/,
    ],
    [
      { kind: "agreement", expected: { sd: -1 }, aim: { halfWidth: 1 } },
      /expected.sd: requires a number above 0, got -1/,
    ],
    [
      { kind: "area", expected: { area: 0.8, prevalence: 0.2 }, aim: { differencePower: 0.8 } },
      /second/,
    ],
    [{ kind: "cost" }, /planStudy requires a kind.*got "cost"/],
    [null, /planStudy requires a kind/],
  ])("a faulty plan is named: %j", (json, message) => {
    expect(() => planStudy(json)).toThrow(message);
  });
});

it("every plan repeats its assumptions and the caution, and its table says so", () => {
  const plan = planAgreementStudy({ expected: { sd: 0.5 }, aim: { halfWidth: 0.1 } });
  const table = planTable(plan);
  expect(table.notes.slice(-plan.assumptions.length - 1)).toEqual([
    ...plan.assumptions,
    plan.caution,
  ]);
  expect(table.rows.map(({ cells }) => cells[0])).toContain(plan.n);
});
