import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { correctVerification } from "../../src/accuracy/index.js";
import {
  describeProgramme,
  type ProgrammeColumns,
  type ProgrammeGroup,
  type ProgrammeMeasureId,
  programmeTables,
  shownMeasures,
} from "../../src/programme/index.js";

/** A child as one letter each: decision, reason, condition. */
function columnsOf(
  children: readonly (readonly [decision: string, reason: string, condition: boolean | null])[],
  more: Partial<ProgrammeColumns> = {},
): ProgrammeColumns {
  return {
    decision: children.map(([decision]) => decision),
    reason: children.map(([, reason]) => reason),
    condition: children.map(([, , condition]) => condition),
    ...more,
  };
}

const few = columnsOf(
  [
    ["refer", "referred", true],
    ["refer", "referred", false],
    ["refer", "not-examined", null],
    ["unable", "referred", true],
    ["unable", "not-examined", null],
    ["pass", "sampled", false],
    ["pass", "sampled", true],
    ["pass", "self-presented", false],
    ["pass", "not-examined", null],
    ["pass", "not-examined", null],
    ["not-screened", "not-examined", null],
  ],
  {
    invited: [true, true, true, true, null, true, true, false, true, false, null],
    came: [true, true, true, true, false, true, true, true, false, false, null],
    daysToExam: [10, 20, 30, 40, ...Array(7).fill(Number.NaN)],
    attempts: [1, 1, 1, 3, 2, 1, 1, 1, 1, 1, 0],
    readAtFirst: [true, true, null, false, false, true, true, true, false, true, null],
    declared: [..."rrpuupprpp"].map(word).concat([null as never]),
  },
);
function word(letter: string): string {
  return { r: "refer", p: "pass", u: "unable" }[letter]!;
}

const value = ({ measures }: ProgrammeGroup, id: ProgrammeMeasureId) =>
  measures.find((one) => one.id === id)!.estimate.value;

describe("by hand", () => {
  const { overall } = describeProgramme(few, { withinDays: 25, replicates: 50 });

  it("counts each step", () => {
    expect(overall.counts).toEqual({
      eligible: 11,
      screened: 10,
      rescreened: 2,
      firstKnown: 9,
      unableAtFirst: 3,
      unable: 2,
      passed: 5,
      referred: 5,
      // the child without a record of it was referred
      invited: 8,
      invitedReferred: 5,
      came: 4,
      invitedPasses: 3,
      passesCame: 2,
      cameUnasked: 1,
      examined: 3,
      found: 2,
      examinedUnasked: 0,
      examinedOthers: 3,
      foundOthers: 1,
      daysKnown: 4,
      withinDays: 2,
      compared: 10,
      departures: 2,
      referredAgainst: 1,
      passedAgainst: 1,
    });
  });

  it("divides them", () => {
    expect(value(overall, "screened")).toBeCloseTo(10 / 11, 12);
    expect(value(overall, "followUp")).toBeCloseTo(4 / 5, 12);
    expect(value(overall, "found")).toBeCloseTo(200, 12);
    expect(value(overall, "predictiveValue")).toBeCloseTo(2 / 3, 12);
    expect(value(overall, "examsPerCase")).toBeCloseTo(1.5, 12);
    expect(value(overall, "withinDays")).toBeCloseTo(0.5, 12);
    expect(value(overall, "departures")).toBeCloseTo(0.2, 12);
    // type 7: 10, 20, 30, 40
    expect(overall.dayQuartiles).toEqual([17.5, 25, 32.5]);
  });

  it("counts the unable otherwise where asked to", () => {
    const { counts } = describeProgramme(few, { undecidable: "pass", replicates: 50 }).overall;
    expect(counts).toMatchObject({ referred: 3, unable: 2, found: 1, foundOthers: 2 });
  });
});

describe("corrected figures", () => {
  // 400 children: 60 referred, 40 of them examined, 20 with; 340 passed, 100 drawn, 4 with
  const children = [
    ...Array(20).fill(["refer", "referred", true]),
    ...Array(20).fill(["refer", "referred", false]),
    ...Array(20).fill(["refer", "not-examined", null]),
    ...Array(4).fill(["pass", "sampled", true]),
    ...Array(96).fill(["pass", "sampled", false]),
    ...Array(240).fill(["pass", "not-examined", null]),
  ];
  const { overall } = describeProgramme(columnsOf(children), { replicates: 2000 });

  // Begg and Greenes 1983: 60 x .5 = 30 found cases, 340 x .04 = 13.6 missed
  it("stand for everybody", () => {
    expect(value(overall, "correctedYield")).toBeCloseTo((1000 * 30) / 400, 9);
    expect(value(overall, "missed")).toBeCloseTo(40, 9);
    expect(value(overall, "prevalence")).toBeCloseTo((1000 * 43.6) / 400, 9);
    expect(value(overall, "sensitivity")).toBeCloseTo(30 / 43.6, 9);
    // as found: 20 in 400
    expect(value(overall, "found")).toBeCloseTo(50, 9);
  });

  it("are those of correctVerification on the same counts", () => {
    const same = correctVerification(
      {
        verified: { truePositive: 20, falsePositive: 20, falseNegative: 4, trueNegative: 96 },
        unverified: { testPositive: 20, testNegative: 240 },
      },
      { replicates: 2000 },
    );
    expect(overall.corrected.sensitivity).toEqual(same.sensitivity);
    expect(overall.corrected.prevalence).toEqual(same.prevalence);
  });
});

describe("groups", () => {
  it("add up, nest, and stand in the order of their numbers", () => {
    const child = fc.constantFrom(
      ["refer", "referred", true],
      ["refer", "referred", false],
      ["refer", "not-examined", null],
      ["unable", "referred", false],
      ["pass", "sampled", true],
      ["pass", "sampled", false],
      ["pass", "not-examined", null],
      ["not-screened", "not-examined", null],
    ) as fc.Arbitrary<[string, string, boolean | null]>;
    const site = fc.constantFrom("b", "a", "10", "9");
    fc.assert(
      fc.property(fc.array(fc.tuple(child, site), { minLength: 1, maxLength: 60 }), (rows) => {
        const columns = columnsOf(
          rows.map(([one]) => one),
          { by: { site: rows.map(([, name]) => name) } },
        );
        const { overall, groupings } = describeProgramme(columns, { replicates: 20 });
        const { groups } = groupings[0];
        expect(groups.map(({ group }) => group)).toEqual(
          ["9", "10", "a", "b"].filter((name) => rows.some(([, one]) => one === name)),
        );
        for (const key of Object.keys(overall.counts) as (keyof typeof overall.counts)[]) {
          if (overall.counts[key] === null) continue;
          expect(groups.reduce((sum, { counts }) => sum + counts[key]!, 0)).toBe(
            overall.counts[key],
          );
        }
        for (const { counts, measures } of [overall, ...groups]) {
          expect(counts.found).toBeLessThanOrEqual(counts.examined);
          expect(counts.examined).toBeLessThanOrEqual(counts.referred);
          expect(counts.referred + counts.passed).toBe(counts.screened);
          for (const { estimate } of measures) {
            if (estimate.kind === "undefined") continue;
            expect(estimate.low).toBeLessThanOrEqual(estimate.value);
            expect(estimate.high).toBeGreaterThanOrEqual(estimate.value);
          }
        }
        expect(JSON.stringify(overall)).not.toContain("NaN");
      }),
      { numRuns: 12 },
    );
  });

  // Pearson's chi-square by observed and expected counts
  it("are tested for one value", () => {
    const site = ["a", "a", "a", "a", "b", "b", "b", "b", "b", "b"];
    const refers = [1, 1, 1, 0, 1, 0, 0, 0, 0, 0];
    const { groupings } = describeProgramme(
      columnsOf(
        refers.map((refer) => [refer ? "refer" : "pass", "not-examined", null]),
        { by: { site } },
      ),
      { replicates: 20 },
    );
    const test = groupings[0].sameInAll.find(({ id }) => id === "referred")!.test;
    const expected = [1.6, 2.4, 2.4, 3.6];
    const observed = [3, 1, 1, 5];
    const chiSquare = observed.reduce(
      (sum, count, at) => sum + (count - expected[at]) ** 2 / expected[at],
      0,
    );
    expect(test).toMatchObject({ kind: "homogeneity", df: 1 });
    expect(test.kind === "homogeneity" && test.chiSquare).toBeCloseTo(chiSquare, 12);
  });
});

describe("for the public", () => {
  const child = fc.record({
    decision: fc.constantFrom("refer", "pass", "unable"),
    condition: fc.constantFrom(true, false, null),
    site: fc.constantFrom("a", "b"),
  });

  it("no figure shown rests on a count of 1 to 10, nor does its complement", () => {
    const small = (count: number) => count > 0 && count < 11;
    fc.assert(
      fc.property(fc.array(child, { minLength: 30, maxLength: 200 }), (rows) => {
        const description = describeProgramme(
          {
            decision: rows.map(({ decision }) => decision),
            condition: rows.map(({ condition }) => condition),
            reason: rows.map(({ condition, decision }) =>
              condition === null ? "not-examined" : decision === "pass" ? "sampled" : "referred",
            ),
            by: { site: rows.map(({ site }) => site) },
          },
          { replicates: 20 },
        );
        const { overall, groupings } = description;
        for (const groups of [[overall], groupings[0].groups]) {
          const shown = shownMeasures(groups, "public");
          for (const { measures, counts } of groups) {
            for (const { id, counted, of } of measures) {
              if (!shown.has(id) || counted === null || of === null) continue;
              expect(small(counted) || small(Math.abs(of - counted))).toBe(false);
            }
            if (shown.has("prevalence")) expect(small(counts.foundOthers)).toBe(false);
          }
        }
        // the tables hold the same figures and no others
        const printed = programmeTables(description).flatMap(({ rows: lines }) =>
          lines.flatMap(({ cells }) => cells.slice(1, 3).filter((cell) => cell !== null)),
        );
        expect(printed.some((cell) => small(cell as number))).toBe(false);
      }),
      { numRuns: 20 },
    );
  });

  it("names what is left out", () => {
    const [table] = programmeTables(describeProgramme(few, { replicates: 20 }));
    expect(table.notes.join(" ")).toContain("Not shown, as a count behind it is below 11");
    expect(table.notes.at(-1)).toContain("Research use only");
  });
});

describe("wrong input", () => {
  it.each([
    [
      { decision: ["refers"] },
      'requires decision refer, pass, unable, not-screened, got "refers" in row 0',
    ],
    [{ declared: ["yes"] }, 'requires declared refer, pass, unable or null, got "yes" in row 0'],
    [{ decision: ["not-screened"], condition: [true] }, "requires condition null"],
    [{ attempts: [1, 2] }, "requires columns of one length"],
    [{ reason: ["because"], condition: [true] }, "requires reason"],
  ])("%j", (wrong, message) => {
    const right = { decision: ["refer"], condition: [null], reason: ["not-examined"] };
    const columns = { ...right, ...wrong } as ProgrammeColumns;
    expect(() => describeProgramme(columns)).toThrow(message);
  });
});
