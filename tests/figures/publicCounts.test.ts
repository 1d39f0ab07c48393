import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { netBenefit, predictiveValuesAt, verificationBounds } from "../../src/accuracy/index.js";
import * as figures from "../../src/figures/index.js";
import { proportionInterval } from "../../src/inference/index.js";
import type { FigureSpec, TwoByTwo } from "../../src/results/index.js";
import { paretoFront } from "../../src/rulespace/paretoFront.js";
import { placeRules } from "../../src/rulespace/placeRules.js";
import { ruleAt } from "../../src/rulespace/ruleAt.js";
import { ruleSpace } from "../../src/rulespace/ruleSpace.js";
import { rocCurve } from "../../src/thresholds/rocCurve.js";
import { scoreTradeoff } from "../../src/thresholds/scoreTradeoff.js";

// What a reader can do who knows how many have the condition and how many have not: multiply every
// drawn rate back to a count, and take the difference of any two.

const isSmall = (count: number) => count > 0.5 && count < 10.5;

/** Numbers of a member in all the data of a specification. */
function drawn(figure: FigureSpec, member: string): number[] {
  const found: number[] = [];
  JSON.stringify(figure.spec, (_, item) => {
    if (item?.values === undefined || !Array.isArray(item.values)) return item;
    for (const row of item.values) if (typeof row?.[member] === "number") found.push(row[member]);
    return item;
  });
  return found;
}

/** No count, no rest and no difference of two is from 1 to 10; all and none are known. */
function expectNothingSmall(rates: readonly number[], total: number): void {
  const counts = [...new Set(rates.map((rate) => Math.round(rate * total)))];
  for (const count of counts) {
    if (count === 0 || count === total) continue;
    for (const other of [0, total, ...counts]) {
      expect(isSmall(Math.abs(count - other)), `${count} and ${other} of ${total}`).toBe(false);
    }
  }
}

interface Place {
  readonly x: number;
  readonly y: number;
  readonly order?: number;
  readonly text?: string;
}

const rows = fc
  .array(fc.tuple(fc.integer({ min: -24, max: 8 }), fc.boolean()), {
    minLength: 60,
    maxLength: 400,
  })
  .map((list) => ({
    values: list.map(([quarter, shift]) => quarter / 4 - (shift ? 1 : 0)),
    condition: list.map(([quarter], at) => (at < 2 ? at === 0 : quarter < -8 !== (at % 9 === 0))),
  }));

const sizes = (condition: readonly boolean[]) => {
  const withIt = condition.filter(Boolean).length;
  return { withIt, without: condition.length - withIt };
};

describe("figures for the public give back no count from 1 to 10", () => {
  it("along an ROC curve, with a mark on it", () => {
    fc.assert(
      fc.property(rows, fc.integer({ min: -20, max: 4 }), (data, limit) => {
        const curve = rocCurve(data, { positiveWhen: "low" });
        const { withIt, without } = sizes(data.condition);
        const figure = figures.rocFigure(curve, undefined, {
          marked: [{ cutOff: limit / 4, origin: "pre-specified" }],
        });
        // the key to the mark and the dotted line stand at places of their own
        const [line, marks] = (figure.spec.layer as { data: { values: Place[] } }[])
          .map(({ data }) => data.values.filter(({ order, text }) => order !== undefined && !text))
          .filter((places) => places.length > 0);
        expectNothingSmall(
          line!.map(({ y }) => y),
          withIt,
        );
        expectNothingSmall(
          line!.map(({ x }) => x),
          without,
        );
        for (const { x, y } of marks ?? []) {
          expect(line!.some((place) => place.x === x && place.y === y)).toBe(true);
        }
      }),
      { numRuns: 60 },
    );
  });

  it("along a referral limit", () => {
    fc.assert(
      fc.property(rows, fc.integer({ min: -20, max: 4 }), (data, limit) => {
        const curve = rocCurve(data, { positiveWhen: "low" });
        const { withIt, without } = sizes(data.condition);
        const figure = figures.ratesAlongLimitFigure(curve, { limit: limit / 4 });
        const lines = (name: string) => {
          const found: number[] = [];
          JSON.stringify(figure.spec, (_, item) => {
            if (item?.series === name) found.push(item.y);
            return item;
          });
          return found;
        };
        expectNothingSmall(lines("sensitivity"), withIt);
        expectNothingSmall(lines("specificity"), without);
        expectNothingSmall(lines("referral rate"), data.values.length);
      }),
      { numRuns: 60 },
    );
  });

  it("on a front of rules, with the chosen rule, the plateau and a rule from elsewhere", () => {
    fc.assert(
      fc.property(rows, fc.nat(20), fc.nat(60), (data, choice, moved) => {
        const space = ruleSpace({
          measures: {
            sphere: data.values.map((value) => -value),
            cylinder: data.values.map((value, at) => Math.abs(value) / 2 + (at % 4)),
          },
          condition: data.condition,
          limits: { sphere: [0, 1, 2, 3, 4, 5], cylinder: [1, 2, 3, 4] },
        });
        const front = paretoFront(space);
        const chosen = front.points[choice % front.points.length]!;
        const { withIt, without } = sizes(data.condition);
        const right = Math.min(withIt, moved);
        const wrong = Math.min(without, moved * 2);
        const { rules } = placeRules(front, {
          elsewhere: {
            truePositive: right,
            falseNegative: withIt - right,
            falsePositive: wrong,
            trueNegative: without - wrong,
          },
        });
        const figure = figures.ruleFrontFigure(front, {
          chosen,
          plateau: front.points.slice(0, 3),
          placed: rules,
        });
        expectNothingSmall(drawn(figure, "y"), withIt);
        expectNothingSmall(drawn(figure, "x"), without);
        const left = Number(/(\d+) of \d+ marks/.exec(figure.caption)?.[1] ?? 0);
        const journal = figures.ruleFrontFigure(front, { chosen, audience: "journal" });
        expect(left > 0 || drawn(journal, "y").length > 0).toBe(true);
        if (isSmall(chosen.table.falseNegative)) expect(figure.alt).toContain("not shown");
      }),
      { numRuns: 60 },
    );
  });

  it("on a front of rules that cannot decide on everybody", () => {
    fc.assert(
      fc.property(rows, fc.nat(20), (data, choice) => {
        const space = ruleSpace(
          {
            measures: {
              sphere: data.values.map((value, at) => (at % 5 === 0 ? Number.NaN : -value)),
              cylinder: data.values.map((value, at) => Math.abs(value) / 2 + (at % 4)),
            },
            condition: data.condition,
            limits: { sphere: [0, 1, 2, 3, 4, 5], cylinder: [1, 2, 3, 4] },
          },
          { undecidable: "exclude" },
        );
        const front = paretoFront(space);
        const chosen = front.points[choice % front.points.length]!;
        const { alt } = figures.ruleFrontFigure(front, { chosen });
        const { table } = chosen;
        const known = [space.withCondition.total, space.withoutCondition.total];
        const own = [
          table.truePositive,
          table.falseNegative,
          table.falsePositive,
          table.trueNegative,
        ];
        if (own.some((count) => isSmall(count) && !known.includes(count))) {
          expect(alt).toContain("not shown");
        }
      }),
      { numRuns: 40 },
    );
  });

  it("in a heat map: each shade stands for at least 11 counts, in whatever cell", () => {
    fc.assert(
      fc.property(rows, fc.constantFrom("sensitivity", "specificity"), (data, show) => {
        const { withIt, without } = sizes(data.condition);
        const total = show === "sensitivity" ? withIt : without;
        const space = ruleSpace({
          measures: {
            sphere: data.values.map((value) => -value),
            cylinder: data.values.map((value) => Math.abs(value) / 2),
          },
          condition: data.condition,
          limits: { sphere: [0, 1, 2, 3], cylinder: [1, 2, 3] },
        });
        const chosen = { sphere: 1, cylinder: 2 };
        const draw = () => figures.limitHeatMapFigure(space, { show, chosen });
        if (total < 22) {
          expect(draw).toThrow("limitHeatMapFigure for the public requires at least 22 children");
          return;
        }
        const figure = draw();
        const shades = [...new Set(drawn(figure, "rate"))];
        expect(shades.length).toBeLessThanOrEqual(Math.min(10, Math.floor(total / 11)));
        const { truePositive, falseNegative, falsePositive, trueNegative } = ruleAt(space, chosen);
        const counts =
          show === "sensitivity" ? [truePositive, falseNegative] : [falsePositive, trueNegative];
        // the exact rate of the framed rule is told only where its counts may be
        expect(figure.alt.includes(" between ")).toBe(counts.some(isSmall));
      }),
      { numRuns: 60 },
    );
  });

  it("along limits on the confidence score", () => {
    fc.assert(
      fc.property(rows, (data) => {
        const n = data.values.length;
        const confidenceScore = data.values.map((_, at) => 1 + ((at * 7) % 9));
        const tradeoff = scoreTradeoff(
          { test: data.values, reference: data.values, confidenceScore, condition: data.condition },
          { betterWhen: "high", positiveWhen: "low", cutOff: -2 },
        );
        const figure = figures.scoreTradeoffFigure(tradeoff);
        const journal = figures.scoreTradeoffFigure(tradeoff, { audience: "journal" });
        const shown = tradeoff.steps.filter(({ scoreLimit }) =>
          drawn(figure, "x").includes(scoreLimit ?? Number.NaN),
        );
        const all = (cell: keyof TwoByTwo) =>
          [tradeoff.steps[0]!, ...shown].map(({ accuracy }) =>
            accuracy.kind === "undefined" ? 0 : accuracy.accuracy.table[cell],
          );
        const ofLine = (name: string, cell: keyof TwoByTwo) => {
          const limits = new Set<number>();
          JSON.stringify(figure.spec, (_, item) => {
            if (item?.series === name) limits.add(item.x);
            return item;
          });
          const [total] = all(cell);
          const counts = shown
            .filter(({ scoreLimit }) => limits.has(scoreLimit!))
            .map(({ accuracy }) =>
              accuracy.kind === "undefined" ? 0 : accuracy.accuracy.table[cell],
            );
          if (total! > 0) {
            expectNothingSmall(
              counts.map((count) => count / total!),
              total!,
            );
          }
        };
        ofLine("sensitivity", "truePositive");
        ofLine("sensitivity", "falseNegative");
        ofLine("specificity", "trueNegative");
        ofLine("specificity", "falsePositive");
        expectNothingSmall(drawn(linesOnly(figure, "children lost"), "y"), n);
        expect(drawn(journal, "x").length).toBeGreaterThanOrEqual(drawn(figure, "x").length);
      }),
      { numRuns: 40 },
    );
  });

  it("in the rows of a forest, with a row for all", () => {
    const group = fc.tuple(fc.nat(40), fc.nat(40), fc.nat(30));
    fc.assert(
      fc.property(fc.array(group, { minLength: 2, maxLength: 6 }), fc.boolean(), (groups, sum) => {
        const row = (label: string, [right, wrong, others]: readonly number[]) => ({
          label,
          n: right! + wrong! + others!,
          counts: [right!, wrong!] as const,
          estimate: proportionInterval({ successes: right!, trials: right! + wrong! }),
        });
        const total = [0, 1, 2].map((at) => groups.reduce((all, one) => all + one[at]!, 0));
        const list = groups.map((one, at) => row(`site ${at}`, one));
        const figure = figures.forestFigure(
          sum ? [...list, { ...row("all", total), summary: true }] : list,
          { quantity: "sensitivity", unit: "", grouping: "site" },
        );
        const isHidden = (label: string) => figure.alt.includes(`${label} not shown`);
        for (const at of [0, 1, "n"] as const) {
          const countOf = (one: (typeof list)[number]) => (at === "n" ? one.n : one.counts[at]);
          const hidden = list.filter(({ label }) => isHidden(label));
          for (const one of list) {
            if (!isHidden(one.label)) expect(isSmall(countOf(one))).toBe(false);
          }
          // what is left of the sum, which the row for all or the caption tells
          const rest = hidden.reduce((all, one) => all + countOf(one), 0);
          if (hidden.length < list.length && !isHidden("all")) expect(isSmall(rest)).toBe(false);
        }
      }),
    );
    const bare = {
      label: "site A",
      n: 50,
      estimate: proportionInterval({ successes: 9, trials: 20 }),
    };
    expect(() => figures.forestFigure([bare], { quantity: "sensitivity", unit: "" })).toThrow(
      "requires counts of every proportion, got none for site A",
    );
  });

  it("in figures of a single table, which are refused", () => {
    const cell = fc.nat(60);
    fc.assert(
      fc.property(fc.tuple(cell, cell, cell, cell, cell, cell), (counts) => {
        const [truePositive, falsePositive, falseNegative, trueNegative] = counts;
        const table = { truePositive, falsePositive, falseNegative, trueNegative };
        fc.pre(truePositive + falseNegative > 0 && falsePositive + trueNegative > 0);
        fc.pre(truePositive + falsePositive > 0 && falseNegative + trueNegative > 0);
        const unverified = { testPositive: counts[4], testNegative: counts[5] };
        const small = (list: readonly number[]) => list.some(isSmall);
        const check = (draw: () => FigureSpec, refused: boolean) => {
          if (refused) expect(draw).toThrow("for the public requires counts of 0 or at least 11");
          else expect(draw().kind).toBe("figure");
        };
        const predictive = predictiveValuesAt({ table, prevalence: [0.1, 0.2] });
        const four = Object.values(table);
        check(() => figures.predictiveValuesFigure(predictive, { n: 9 }), small(four));
        const benefit = netBenefit(
          { verified: table, unverified },
          { thresholdProbabilities: [0.1, 0.2] },
        );
        check(() => figures.netBenefitFigure(benefit), small([...counts]));
        const bounds = verificationBounds({ verified: table, unverified });
        check(() => figures.verificationBoundsFigure(bounds, { n: 9 }), small([...counts]));
        const journal = { audience: "journal" } as const;
        expect(figures.netBenefitFigure(benefit, journal).kind).toBe("figure");
      }),
      { numRuns: 100 },
    );
  });

  it("and rates made elsewhere need the counts behind them, numbers from print do not", () => {
    const rate = proportionInterval({ successes: 40, trials: 52 });
    const made = predictiveValuesAt({ sensitivity: rate, specificity: rate, prevalence: [0.1] });
    expect(() => figures.predictiveValuesFigure(made, { n: 104 })).toThrow(/requires counts.*none/);
    const counts = [40, 12];
    expect(figures.predictiveValuesFigure(made, { n: 104, counts }).kind).toBe("figure");
    const print = predictiveValuesAt({ sensitivity: 0.9, specificity: 0.8, prevalence: [0.1] });
    expect(figures.predictiveValuesFigure(print, { n: 100 }).kind).toBe("figure");
  });
});

/** The rows of one named line alone. */
function linesOnly(figure: FigureSpec, name: string): FigureSpec {
  const values: unknown[] = [];
  JSON.stringify(figure.spec, (_, item) => {
    if (item?.series === name) values.push(item);
    return item;
  });
  return { ...figure, spec: { data: { values } } };
}
