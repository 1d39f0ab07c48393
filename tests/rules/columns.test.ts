import { readFile } from "node:fs/promises";
import { beforeAll, describe, expect, it } from "vitest";
import { accuracyFromCounts, crossClassify } from "../../src/accuracy/index.js";
import { type Cohort, linkCohort, readFindings, readReadings } from "../../src/cohort/index.js";
import { referralReasonsFigure } from "../../src/figures/index.js";
import {
  applyRule,
  decideCohort,
  defineRule,
  type ReferralRule,
  type RuleColumns,
  reasonCombinations,
  referredAndFound,
  referredAndFoundTable,
  ruleColumns,
  ruleDifference,
} from "../../src/rules/index.js";
import { ruleAt, ruleSpace } from "../../src/rulespace/index.js";
import { wrong } from "../builders/wrong.js";

const rule = (referWhen: unknown, more: object = {}): ReferralRule =>
  defineRule({
    kind: "rule",
    id: "own",
    title: "Own",
    definition: "own",
    appliesTo: "reading",
    referWhen,
    ...more,
  });
const equivalent = (criterion: string, relation: string, limit: number) => ({
  criterion,
  quantity: "M",
  ...(criterion === "anisometropia" ? {} : { eye: "either" }),
  relation,
  limit,
});
const cylinder = (relation: string, limit: number) => ({
  criterion: "astigmatism",
  quantity: "cylinder",
  eye: "either",
  relation,
  limit,
});

/** Children with both eyes alike, without cylinder. */
function alike(spheres: number[], ages: { months?: number[]; years?: number[] } = {}): RuleColumns {
  const eye = {
    sphere: Float64Array.from(spheres),
    cylinder: new Float64Array(spheres.length),
    axis: new Float64Array(spheres.length).fill(Number.NaN),
  };
  return {
    kind: "rule-columns",
    n: spheres.length,
    ...(ages.months ? { ageMonths: Float64Array.from(ages.months) } : {}),
    ...(ages.years ? { ageYears: Float64Array.from(ages.years) } : {}),
    right: eye,
    left: eye,
  };
}

describe("ages", () => {
  const banded = rule(undefined, {
    bands: [
      { ageMonths: [18, 30], referWhen: equivalent("hyperopia", ">", 4) },
      { ageMonths: [30, 72], referWhen: equivalent("hyperopia", ">", 3) },
    ],
  });
  const words = (columns: RuleColumns) => {
    const { decision, cause } = applyRule(banded, columns);
    return Array.from(
      decision.codes,
      (code, at) => `${decision.labels[code]} ${cause.labels[cause.codes[at]]}`,
    );
  };

  it("are bounded where only whole years are known", () => {
    // two years: months 24 to 35, in both bands; one year: months 12 to 23, partly in none
    expect(words(alike([5, 2, 3.5, 5, 2, 5], { years: [2, 2, 2, 1, 6, 3] }))).toEqual([
      "refer decided",
      "pass decided",
      "undecidable age-spans-bands",
      "undecidable age-spans-bands",
      "undecidable no-band",
      "refer decided",
    ]);
  });

  it("are undecidable without a band or a number, whatever the eyes", () => {
    const found = alike([9, 9, 9, Number.NaN], { months: [17, 72, Number.NaN, 20] });
    expect(words(found)).toEqual([
      "undecidable no-band",
      "undecidable no-band",
      "undecidable age-unknown",
      "undecidable missing-value",
    ]);
    expect(applyRule(banded, found).counts).toMatchObject({
      undecidable: 4,
      noBand: 2,
      ageUnknown: 1,
      missingValue: 1,
    });
  });

  it("counts children within a month of an edge", () => {
    const months = [16, 17, 18, 19, 28, 29, 30, 31, 70, 71, 72, 73];
    expect(applyRule(banded, alike(months, { months })).nearBandEdge).toBe(6);
  });

  it("counts children exactly at a limit of their own band", () => {
    const { atLimit } = applyRule(
      banded,
      alike([4, 4, 3, 3, 3.0004, 3.0006], { months: [20, 40, 20, 40, 40, 40] }),
    );
    expect(atLimit.map(({ path, children }) => [path, children])).toEqual([
      ["bands[0].referWhen", 1],
      ["bands[1].referWhen", 2],
    ]);
  });
});

describe("rounding to 0.001", () => {
  it("keeps 3.5004 at a strict limit of 3.5 and lets 3.5005 cross it", () => {
    const { decision } = applyRule(
      rule(equivalent("hyperopia", ">", 3.5)),
      alike([3.5004, 3.5005, 3.4996]),
    );
    expect([...decision.codes]).toEqual([0, 1, 0]);
    const inclusive = applyRule(rule(equivalent("hyperopia", ">=", 3.5)), alike([3.4994, 3.4995]));
    expect([...inclusive.decision.codes]).toEqual([0, 1]);
  });

  // By decimal arithmetic: S + C/2 in thousandths and halves, each exact as a whole number.
  it("rounds a half of a thousandth upwards where binary digits put it just below", () => {
    const plain = (limit: number) => rule(equivalent("hyperopia", ">=", limit));
    let below = 0;
    for (let sphere = 1000; sphere < 9000; sphere += 37) {
      const [S, C] = [sphere / 1000, 327 / 1000];
      if ((S + C / 2) * 1000 < sphere + 163.5) below++;
      const limit = (sphere + 164) / 1000;
      const child = { right: { sphere: S, cylinder: C, axis: 90 }, left: null };
      expect(applyRule(plain(limit), child).decision).toBe("refer");
      const eye = {
        sphere: Float64Array.of(S),
        cylinder: Float64Array.of(C),
        axis: Float64Array.of(90),
      };
      const columns = { kind: "rule-columns", n: 1, right: eye, left: eye } as const;
      expect([...applyRule(plain(limit), columns).decision.codes]).toEqual([1]);
    }
    expect(below).toBeGreaterThan(0);
  });
});

describe("bad columns", () => {
  it("are named", () => {
    const good = alike([1, 2]);
    const plain = rule(equivalent("hyperopia", ">", 3.5));
    const right = { ...good.right, sphere: wrong([1, 2]) };
    expect(() => applyRule(plain, { ...good, right })).toThrow(/right\.sphere as Float64Array/);
    expect(() => applyRule(plain, { ...good, n: 3 })).toThrow(/3 values of right\.sphere, got 2/);
  });
});

describe("the demo programme, invented", () => {
  let cohort: Cohort;
  beforeAll(async () => {
    const columns = JSON.parse(await readFile("data/demo/columns.json", "utf8"));
    cohort = linkCohort({
      readings: await readReadings("data/demo/invented-readings.csv", {
        columns,
        // ages beyond 89 years are among the planted faults
        allowIdentifiers: ["age_months"],
      }),
      findings: await readFindings("data/demo/invented-findings.csv", { columns }),
      instrument: "handheld",
      correction: "none",
    });
  });
  const refer = rule([
    equivalent("hyperopia", ">=", 3),
    equivalent("myopia", "<=", -2.75),
    cylinder(">=", 2.5),
    equivalent("anisometropia", ">=", 2),
  ]);
  const condition = rule(
    [
      equivalent("hyperopia", ">=", 4),
      equivalent("myopia", "<=", -3),
      cylinder(">=", 2.5),
      equivalent("anisometropia", ">=", 2),
      { criterion: "strabismus", is: true, eye: "either" },
    ],
    { appliesTo: "finding", id: "condition" },
  );

  it("loses nobody between rule, condition and table", () => {
    const decided = decideCohort(cohort, { refer, condition });
    const left = decided.leftOut.reduce((sum, { children }) => sum + children, 0);
    expect(decided.n + left).toBe(cohort.children.n);
    const { counts } = decided.test;
    expect(counts.refer + counts.pass + counts.undecidable).toBe(cohort.children.n);
    const table = crossClassify(
      { test: decided.decision, reference: decided.condition },
      { undecidable: "refer" },
    );
    expect(Object.values(table).reduce((sum, count) => sum + count, 0)).toBe(decided.n);
    expect(
      accuracyFromCounts(table, { verification: "partial" }).positivePredictiveValue.kind,
    ).toBe("estimate");
    // row by row, as one child at a time
    const readings = ruleColumns(cohort, "reading");
    for (let row = 0; row < decided.n; row += 97) {
      const child = decided.subjects[row];
      const eye = (side: "right" | "left") => ({
        sphere: readings[side].sphere[child],
        cylinder: readings[side].cylinder[child],
        axis: readings[side].axis[child],
        status: cohort.readings.status.labels[readings[side].status![child]],
      });
      expect(applyRule(refer, { right: eye("right"), left: eye("left") }).decision).toBe(
        decided.decision[row],
      );
    }
  });

  it("refers by the rules of the space as by applyRule, at every point of a grid", () => {
    // the space is over measures of complete children, high is worse
    const { right, left, n } = ruleColumns(cohort, "reading");
    const found = ruleColumns(cohort, "finding");
    const columns = { hyperopia: [], myopia: [], astigmatism: [], anisometropia: [] } as {
      [name: string]: number[];
    };
    const rows: number[] = [];
    const sick = applyRule(condition, found).decision.codes;
    for (let child = 0; child < n; child++) {
      const powers = [right, left].map((eye) => eye.sphere[child] + eye.cylinder[child] / 2);
      if (powers.some(Number.isNaN) || sick[child] === 2) continue;
      rows.push(child);
      columns.hyperopia.push(Math.max(...powers));
      columns.myopia.push(-Math.min(...powers));
      columns.astigmatism.push(
        Math.max(Math.abs(right.cylinder[child]), Math.abs(left.cylinder[child])),
      );
      columns.anisometropia.push(Math.abs(powers[0] - powers[1]));
    }
    expect(rows.length).toBeGreaterThan(1000);
    const with1 = rows.map((child) => sick[child] === 1);
    const off = Number.POSITIVE_INFINITY;
    const limits = {
      hyperopia: [2.5, 3.125, off],
      myopia: [1.5, 2.75],
      astigmatism: [2, 2.5, off],
      anisometropia: [1, 2],
    };
    const space = ruleSpace({ measures: columns, condition: with1, limits });
    let compared = 0;
    for (const hyperopia of limits.hyperopia) {
      for (const myopia of limits.myopia) {
        for (const astigmatism of limits.astigmatism) {
          for (const anisometropia of limits.anisometropia) {
            const moved = rule([
              ...(hyperopia === off ? [] : [equivalent("hyperopia", ">=", hyperopia)]),
              equivalent("myopia", "<=", -myopia),
              ...(astigmatism === off ? [] : [cylinder(">=", astigmatism)]),
              equivalent("anisometropia", ">=", anisometropia),
            ]);
            const codes = applyRule(moved, cohort).decision.codes;
            const test = rows.map((child) => codes[child]);
            expect(ruleAt(space, { hyperopia, myopia, astigmatism, anisometropia })).toEqual(
              crossClassify({ test, reference: with1 }),
            );
            compared++;
          }
        }
      }
    }
    expect(compared).toBe(36);
  });

  it("adds the combinations of reasons up to the referred, and draws them", () => {
    const decided = applyRule(refer, cohort);
    const combinations = reasonCombinations(decided);
    const total = combinations.reduce((sum, { children }) => sum + children, 0);
    expect(total).toBe(decided.counts.refer);
    expect(new Set(combinations.map(({ reasons }) => reasons.join())).size).toBe(
      combinations.length,
    );
    expect(referralReasonsFigure(combinations).name).toBe("referral-reasons");
  });

  it("says who was referred for what and what was found", () => {
    const result = referredAndFound(cohort, { refer, condition });
    const decided = decideCohort(cohort, { refer, condition });
    const pass = result.rows.find(({ referredFor }) => referredFor === "pass")!;
    expect(pass.children).toBe(decided.decision.filter((one) => one === "pass").length);
    // passed with the condition are the missed ones
    expect(pass.children - pass.foundNothing).toBe(
      decided.decision.filter((one, row) => one === "pass" && decided.condition[row]).length,
    );
    expect(referredAndFoundTable(result).rows.length).toBe(result.rows.length);
  });

  it("a rule differs from itself in nothing, and from a stricter one as the counts say", () => {
    const same = ruleDifference(refer, refer, cohort);
    expect(same).toMatchObject({ onlyFirst: [], onlySecond: [], changed: 0, n: cohort.children.n });
    const stricter = rule([equivalent("hyperopia", ">", 3), equivalent("myopia", "<=", -2.75)]);
    const difference = ruleDifference(refer, stricter, cohort);
    expect(difference.onlyFirst.length).toBe(3);
    expect(difference.onlySecond).toMatchObject([{ words: expect.stringContaining("> +3.00 D") }]);
    expect(difference.inBoth.length).toBe(1);
    const [a, b] = [applyRule(refer, cohort), applyRule(stricter, cohort)];
    let changed = 0;
    for (let child = 0; child < a.n; child++) {
      changed += Number(a.decision.codes[child] !== b.decision.codes[child]);
    }
    expect(difference.changed).toBe(changed);
    expect(changed).toBeGreaterThan(0);
  });
});

describe("the right criterion in the wrong eye", () => {
  it("is counted", async () => {
    const row = (subject: string, eye: "OD" | "OS", sphere: number) => ({
      subject,
      eye,
      sphere,
      cylinder: 0,
      axis: 180,
    });
    const cohort = linkCohort({
      readings: await readReadings([
        row("a", "OD", 4),
        row("a", "OS", 1),
        row("b", "OD", 4),
        row("b", "OS", 1),
        row("c", "OD", 4),
        row("c", "OS", 4),
        row("d", "OD", 1),
        row("d", "OS", 1),
      ]),
      findings: await readFindings([
        row("a", "OD", 1),
        row("a", "OS", 4),
        row("b", "OD", 4),
        row("b", "OS", 4),
        row("c", "OD", 1),
        row("c", "OS", 1),
      ]),
    });
    const refer = rule(equivalent("hyperopia", ">", 3));
    const condition = rule(equivalent("hyperopia", ">", 3), { appliesTo: "finding" });
    const { rows, leftOut, found } = referredAndFound(cohort, { refer, condition });
    expect(found).toEqual(["hyperopia"]);
    expect(rows).toEqual([
      { referredFor: "hyperopia", children: 3, found: [2], foundNothing: 1, otherEye: 1 },
      { referredFor: "pass", children: 0, found: [0], foundNothing: 0, otherEye: null },
      { referredFor: "undecidable", children: 0, found: [0], foundNothing: 0, otherEye: null },
    ]);
    expect(leftOut).toContainEqual({ reason: "not-examined", children: 1 });
    expect(() => decideCohort(cohort, { refer: condition, condition })).toThrow(
      /requires refer to apply to a reading, got finding/,
    );
  });
});
