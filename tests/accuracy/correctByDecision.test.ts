// STATISTICS: cells by recorded decision and studied rule; worked numbers by hand from the counts.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  correctByDecision,
  correctVerification,
  type DecisionColumns,
  verificationCells,
  verificationWeights,
} from "../../src/accuracy/index.js";
import { known } from "../known.js";

interface Child {
  recorded: "refer" | "pass" | "unable";
  test: boolean;
  reference: boolean | null;
  reason: string;
  came?: boolean | null;
  stratum?: string;
}
const columnsOf = (children: readonly Child[]): DecisionColumns => ({
  recorded: children.map(({ recorded }) => recorded),
  test: children.map(({ test }) => test),
  reference: children.map(({ reference }) => reference),
  reason: children.map(({ reason }) => reason),
  ...(children.some(({ came }) => came !== undefined)
    ? { selfPresented: children.map(({ came }) => came ?? null) }
    : {}),
  ...(children.some(({ stratum }) => stratum !== undefined)
    ? { strata: children.map(({ stratum }) => stratum ?? "") }
    : {}),
});
const many = (n: number, child: Child) => Array.from({ length: n }, () => ({ ...child }));

/** cases with and without the condition examined, and unexamined, of one decision and rule. */
const cell = (
  recorded: Child["recorded"],
  test: boolean,
  [withIt, without, unexamined]: readonly [number, number, number],
  more: Partial<Child> = {},
): Child[] => {
  const reason = recorded === "pass" ? "sampled" : "referred";
  return [
    ...many(withIt, { recorded, test, reference: true, reason, ...more }),
    ...many(without, { recorded, test, reference: false, reason, ...more }),
    ...many(unexamined, { recorded, test, reference: null, reason: "not-examined", ...more }),
  ];
};
const hand = (children: readonly Child[], draws = 200) =>
  correctByDecision(columnsOf(children), { replicates: draws });

describe("correctByDecision", () => {
  // Drum and Christacopoulos 1972, in correctVerification.test.ts: the rule under study decided
  it("where recorded and studied are the same it is Begg and Greenes 1983, to the last digit", () => {
    const hepatic = [...cell("refer", true, [231, 32, 166]), ...cell("pass", false, [27, 54, 140])];
    const { cells: _, ...one } = hand(hepatic);
    const { cells: __, ...other } = correctVerification(
      {
        verified: { truePositive: 231, falsePositive: 32, falseNegative: 27, trueNegative: 54 },
        unverified: { testPositive: 166, testNegative: 140 },
      },
      { replicates: 200 },
    );
    expect(one).toEqual(other);
    expect(known(one.sensitivity).value.toFixed(3)).toBe("0.836");
    // bounds by hand, as in verificationBounds
    expect(one.bounds.sensitivity).toMatchObject({ low: 231 / 398, high: 397 / 424 });
    expect(one.bounds.specificity).toMatchObject({ low: 54 / 252, high: 194 / 226 });
  });

  // by hand: (117 + 180) / (117 + 180 + 2)
  it("117/14/2/68 and 180 referred unexamined: never 100 % beside two known misses", () => {
    const result = hand([
      ...cell("refer", true, [117, 14, 180]),
      ...cell("pass", false, [2, 68, 0], { reason: "unknown" }),
    ]);
    expect(result.bounds.sensitivity).toMatchObject({ high: 297 / 299 });
    expect(297 / 299).toBeCloseTo(0.9933, 4);
    expect(result.sensitivity.kind).toBe("undefined");
    expect(result.knownOnly).toMatchObject({ falseNegative: 2, trueNegative: 68 });
    // three decisions: the two missed could not be read, and the programme passed them
    const three = hand([
      ...cell("refer", true, [117, 14, 180]),
      ...cell("pass", false, [0, 40, 400]),
      ...cell("unable", false, [2, 28, 0]),
    ]);
    expect(three.sensitivity.high!).toBeLessThan(1);
    expect(three.sensitivity.kind).toBe("undefined");
  });

  // by hand, from the definition: sum over recorded decisions of N x / m
  it("a stricter rule: who was referred by the programme stands for those the rule passes", () => {
    const result = hand([
      ...cell("refer", true, [40, 10, 50]),
      ...cell("refer", false, [6, 24, 30]),
      ...cell("pass", false, [4, 96, 900]),
      ...cell("unable", true, [5, 5, 10]),
    ]);
    const found = (100 * 40) / 50 + (20 * 5) / 10;
    const missed = (60 * 6) / 30 + (1000 * 4) / 100;
    expect(known(result.sensitivity).value).toBeCloseTo(found / (found + missed), 12);
    const alarms = 120 - found;
    expect(known(result.specificity).value).toBeCloseTo(1 - alarms / (1180 - found - missed), 12);
    expect(result.drawnMisses).toBe(4);
    expect(result.notes.join(" ")).toMatch(/Fewer than 10 missed cases were drawn: on average/);
  });

  it("came by himself known of the drawn too: those who came are a stratum of their own", () => {
    const children = [
      ...cell("refer", true, [40, 10, 50]),
      ...cell("pass", false, [3, 47, 0], { came: false }),
      ...cell("pass", false, [2, 0, 0], { came: true }),
      ...cell("pass", false, [6, 4, 0], { came: true, reason: "self-presented" }),
      ...many(450, { recorded: "pass", test: false, reference: null, reason: "not-examined" }),
    ];
    const result = hand(children);
    // 12 who came stand for themselves; 50 drawn others stand for 500 remaining passes
    const missed = (500 * 3) / 50 + 8;
    expect(known(result.sensitivity).value).toBeCloseTo(80 / (80 + missed), 12);
    // not known of the drawn: the drawn stand for all 512, the others are known only
    const unknown = hand(
      children.map((child) => ({
        ...child,
        came: child.reason === "sampled" ? null : child.came,
      })),
    );
    expect(known(unknown.sensitivity).value).toBeCloseTo(80 / (80 + (512 * 5) / 52), 12);
    expect(unknown.knownOnly).toMatchObject({ falseNegative: 6, trueNegative: 4 });
  });

  it("an empty cell of at most 5 % takes its decision's rate and says so; a larger one has no point", () => {
    const base = [
      ...cell("refer", true, [40, 10, 50]),
      ...cell("pass", false, [5, 45, 950]),
      ...cell("unable", false, [1, 4, 5]),
    ];
    const small = hand([...base, ...cell("pass", true, [0, 0, 50])]);
    const found = 80 + (50 * 5) / 50;
    expect(known(small.sensitivity).value).toBeCloseTo(found / (found + 100 + 2), 12);
    expect(small.notes.join(" ")).toMatch(/None of the children who passed and whom the rule/);
    const large = hand([...base, ...cell("pass", true, [0, 0, 60])]);
    expect(large.sensitivity).toMatchObject({
      kind: "undefined",
      reason: "none of the children who passed and whom the rule under study refers was examined",
    });
    expect(large.sensitivity.low!).toBeLessThan(large.sensitivity.high!);
    expect(large.negativePredictiveValue.kind).toBe("estimate");
    const noPass = hand([...cell("refer", true, [40, 10, 50]), ...cell("pass", false, [0, 0, 9])]);
    expect(noPass.sensitivity).toEqual({
      kind: "undefined",
      reason: "no child who passed was examined: the missed are unknown",
    });
    expect(known(noPass.yieldPer1000).value).toBeCloseTo((1000 * 80) / 109, 10);
  });

  it("fewer than 3 drawn misses: the interval leads, without a point", () => {
    const of = (misses: number) =>
      hand([...cell("refer", true, [40, 10, 50]), ...cell("pass", false, [misses, 98, 900])]);
    expect(of(2).sensitivity).toMatchObject({
      kind: "undefined",
      reason: expect.stringContaining("fewer than 3 missed cases were drawn"),
    });
    expect(of(2).sensitivity.low).toBeGreaterThan(0);
    expect(of(2).sensitivity.high).toBeLessThan(1);
    expect(of(0).sensitivity.high).toBe(1);
    expect(of(3).sensitivity.kind).toBe("estimate");
    expect(of(10).notes.join(" ")).not.toMatch(/Fewer than 10/);
    // everybody examined: no ratio of draws, so a point
    const all = hand([...cell("refer", true, [4, 1, 0]), ...cell("pass", false, [1, 9, 0])]);
    expect(known(all.sensitivity).value).toBe(0.8);
  });

  it("referred in strata stand within theirs where each has 5 examined, else together", () => {
    const children = (few: number) => [
      ...cell("refer", true, [30, 20, 50], { stratum: "north" }),
      ...cell("refer", true, [1, few - 1, 40], { stratum: "south" }),
    ];
    const groups = (few: number) =>
      verificationCells(columnsOf(children(few))).cells.map(({ group }) => group);
    expect(groups(5)).toEqual(["north", "south"]);
    expect(groups(4)).toEqual([""]);
  });

  it("passes of one planned share are pooled over strata", () => {
    const children = ["a", "b", "c"].flatMap((stratum) =>
      cell("pass", false, [1, 5, 20], { stratum }),
    );
    const share = children.map(({ stratum }) => (stratum === "c" ? 0.5 : 0.1));
    const { cells } = verificationCells({ ...columnsOf(children), shareDrawn: share });
    expect(cells.map(({ group, n }) => [group, n])).toEqual([
      ["0.1", 52],
      ["0.5", 26],
    ]);
  });

  it("two rows a child: wider than if every row were a child", () => {
    const children = [
      ...cell("refer", true, [40, 10, 50]),
      ...cell("pass", false, [12, 88, 900]),
    ].flatMap((child) => [child, child]);
    const subjects = children.map((_, row) => Math.floor(row / 2));
    const rows = known(correctByDecision(columnsOf(children), { replicates: 4000 }).sensitivity);
    const eyes = known(
      correctByDecision({ ...columnsOf(children), subjects }, { replicates: 4000 }).sensitivity,
    );
    expect(eyes.value).toBe(rows.value);
    // twice the children: about the root of two
    expect((eyes.high - eyes.low) / (rows.high - rows.low)).toBeGreaterThan(1.3);
  });

  it("a known reason to refuse leaves bounds and counts", () => {
    const result = correctByDecision(columnsOf(cell("refer", true, [3, 1, 2])), { refused: "why" });
    expect(result.sensitivity).toEqual({ kind: "undefined", reason: "why" });
    expect(result.bounds.positivePredictiveValue).toMatchObject({ low: 0.5, high: 5 / 6 });
  });

  it("refuses unknown words, by row", () => {
    const columns = columnsOf(cell("refer", true, [1, 0, 0]));
    expect(() => verificationCells({ ...columns, recorded: ["maybe"] })).toThrow(
      /verificationCells requires recorded refer, pass, unable, got maybe in row 0/,
    );
    expect(() => verificationCells({ ...columns, reason: ["came"] })).toThrow(/got came in row 0/);
  });
});

describe("by definition, children one by one", () => {
  const child: fc.Arbitrary<Child> = fc
    .record({
      recorded: fc.constantFrom("refer" as const, "pass" as const, "unable" as const),
      test: fc.boolean(),
      sick: fc.boolean(),
      examined: fc.boolean(),
      by: fc.constantFrom("sampled", "self-presented", "unknown"),
      came: fc.boolean(),
    })
    .map(({ recorded, test, sick, examined, by, came }) => ({
      recorded,
      test,
      reference: examined ? sick : null,
      reason: examined ? (recorded === "pass" ? by : "referred") : "not-examined",
      came: examined && recorded === "pass" ? came || by === "self-presented" : null,
    }));
  const cohort = (known: boolean) =>
    fc
      .array(child, { minLength: 1, maxLength: 120 })
      .map((children) => (known ? children : children.map(({ came: _, ...rest }) => rest)));

  /** Each child's weight: how many it stands for; written out child by child. */
  const slow = (children: readonly Child[]) => {
    const isOwn = (one: Child) => one.recorded === "pass" && one.came === true;
    const stands = (one: Child) =>
      one.reference !== null && (one.recorded !== "pass" || isOwn(one) || one.reason === "sampled");
    const alike = (one: Child) =>
      children.filter(
        (other) =>
          other.recorded === one.recorded && other.test === one.test && isOwn(other) === isOwn(one),
      );
    const decided = (one: Child) =>
      children.filter((other) => other.recorded === one.recorded && !isOwn(other));
    let [hit, miss, alarm, right] = [0, 0, 0, 0];
    for (const one of children) {
      let examined = alike(one).filter(stands);
      if (examined.length === 0) {
        const all = decided(one);
        if (alike(one).length > 0.05 * all.length) return null;
        examined = all.filter(stands);
        if (examined.length === 0) return null;
      }
      const rate = examined.filter(({ reference }) => reference).length / examined.length;
      if (one.test) [hit, alarm] = [hit + rate, alarm + 1 - rate];
      else [miss, right] = [miss + rate, right + 1 - rate];
    }
    return { sensitivity: hit / (hit + miss), specificity: right / (right + alarm) };
  };

  it.each([true, false])("marks known of the drawn: %s", (marks) => {
    fc.assert(
      fc.property(cohort(marks), (children) => {
        const result = hand(children, 20);
        const byHand = slow(children);
        for (const measure of ["sensitivity", "specificity"] as const) {
          const found = result[measure];
          if (found.kind === "undefined") continue;
          expect(found.value).toBeCloseTo(byHand![measure], 10);
        }
      }),
      { numRuns: 300 },
    );
  });

  it.each([true, false])("nothing contradicts its counts; marks known: %s", (marks) => {
    fc.assert(
      fc.property(cohort(marks), (children) => {
        const result = hand(children, 60);
        const { truePositive, falsePositive, falseNegative, trueNegative } = verificationCells(
          columnsOf(children),
        ).counts.verified;
        const pairs = [
          [result.sensitivity, result.bounds.sensitivity, truePositive, falseNegative],
          [result.specificity, result.bounds.specificity, trueNegative, falsePositive],
          [
            result.prevalence,
            result.bounds.prevalence,
            truePositive + falseNegative,
            falsePositive + trueNegative,
          ],
        ] as const;
        expect(JSON.stringify(result)).not.toMatch(/NaN|null,"high"/);
        for (const [found, bound, right, wrong] of pairs) {
          if (bound.kind === "bounds" && wrong > 0) expect(bound.high).toBeLessThan(1);
          if (found.high !== undefined && wrong > 0) expect(found.high).toBeLessThan(1);
          if (found.low !== undefined && right > 0) expect(found.low).toBeGreaterThan(0);
          if (found.kind === "undefined") continue;
          expect(found.low).toBeLessThanOrEqual(found.value);
          expect(found.high).toBeGreaterThanOrEqual(found.value);
          if (bound.kind === "undefined") throw new Error(bound.reason);
          expect(found.value).toBeGreaterThanOrEqual(bound.low - 1e-9);
          expect(found.value).toBeLessThanOrEqual(bound.high + 1e-9);
        }
      }),
      { numRuns: 300 },
    );
  });

  it("the strata of rows give the same sums where no cell is empty", () => {
    fc.assert(
      fc.property(cohort(true), (children) => {
        const columns = columnsOf(children);
        if (verificationCells(columns).cells.some(({ examined }) => examined === 0)) return;
        const { strata, examined, kept } = verificationWeights(columns);
        const size = new Map<string, [number, number]>();
        strata.forEach((name, at) => {
          const [n, m] = size.get(name) ?? [0, 0];
          size.set(name, [n + 1, m + Number(examined[at])]);
        });
        let [hit, all] = [0, 0];
        kept.forEach((row, at) => {
          const [n, m] = size.get(strata[at])!;
          if (!examined[at] || !children[row].reference) return;
          all += n / m;
          if (children[row].test) hit += n / m;
        });
        if (all > 0) expect(hit / all).toBeCloseTo(slow(children)!.sensitivity, 10);
      }),
      { numRuns: 200 },
    );
  });
});

describe("a cell that nobody was examined of", () => {
  // the studied rule refers 12 of 112 passes, none of them examined; of the other 100 passes 40, no case
  const rows = (of: readonly (readonly [string, boolean, boolean | null, number])[]) =>
    of.flatMap(([recorded, test, has, times]) =>
      Array.from({ length: times }, () => ({ recorded, test, has })),
    );
  const list = rows([
    ["refer", true, true, 20],
    ["refer", true, false, 20],
    ["pass", true, null, 12],
    ["pass", false, false, 40],
    ["pass", false, null, 60],
  ]);
  const correct = (all: typeof list) =>
    correctByDecision(
      {
        recorded: all.map(({ recorded }) => recorded),
        test: all.map(({ test }) => test),
        reference: all.map(({ has }) => has),
        reason: all.map(({ recorded, has }) =>
          has === null ? "not-examined" : recorded === "refer" ? "referred" : "sampled",
        ),
      },
      { replicates: 2000 },
    );

  it("has limits that hold with all and with none of its children having the condition", () => {
    const open = correct(list).prevalence;
    expect(open.kind).toBe("undefined");
    // the same children, were all 12 examined and found so: an independent end of the interval
    const were = (has: boolean) =>
      correct(list.map((one) => (one.recorded === "pass" && one.test ? { ...one, has } : one)));
    expect(open.low!).toBeLessThanOrEqual(were(false).prevalence.value! + 1e-9);
    expect(open.high!).toBeGreaterThanOrEqual(were(true).prevalence.value! - 1e-9);
    // and no part of the unknown cell lifts the lower limit, nor lowers the upper one
    expect(open.low!).toBeLessThan(were(false).prevalence.low! + 0.005);
    expect(open.high!).toBeGreaterThan(were(true).prevalence.high! - 0.01);
  });
});
