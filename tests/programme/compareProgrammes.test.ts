import { describe, expect, it } from "vitest";
import { compareIndependentProportions } from "../../src/accuracy/index.js";
import {
  compareProgrammes,
  comparisonTable,
  describeProgramme,
  funnelLimits,
  type ProgrammeMeasureId,
} from "../../src/programme/index.js";

/** Children by age band: how many of how many were referred. */
function year(bands: { readonly [age: string]: readonly [referred: number, screened: number] }) {
  const rows = Object.entries(bands).flatMap(([age, [referred, screened]]) =>
    Array.from({ length: screened }, (_, child) => ({ age, refer: child < referred })),
  );
  return describeProgramme(
    {
      decision: rows.map(({ refer }) => (refer ? "refer" : "pass")),
      condition: rows.map(() => null),
      reason: rows.map(() => "not-examined"),
      by: { age: rows.map(({ age }) => age), site: rows.map(({ age }) => age) },
    },
    { replicates: 20 },
  );
}

const first = year({ "3 years": [30, 100], "5 years": [30, 300] });
const second = year({ "3 years": [60, 200], "5 years": [10, 100] });
const of = (comparison: ReturnType<typeof compareProgrammes>, id: ProgrammeMeasureId) =>
  comparison.measures.find((one) => one.id === id)!;

describe("two programmes", () => {
  const both = compareProgrammes(first, second, { names: ["2024", "2025"] });

  it("the difference is Newcombe's", () => {
    const same = compareIndependentProportions({
      first: { successes: 70, trials: 300 },
      second: { successes: 60, trials: 400 },
    });
    const { difference } = of(both, "referred");
    expect(difference).toMatchObject({ kind: "estimate", value: 70 / 300 - 60 / 400 });
    expect(difference.low).toBeCloseTo(same.difference.low!, 12);
    expect(difference.high).toBeCloseTo(same.difference.high!, 12);
  });

  it("with ages alike nothing is left of a difference that ages made", () => {
    // 30 and 10 % in both years; the ages alone differ
    const { standardised } = of(both, "referred");
    expect(standardised.value).toBeCloseTo(0, 12);
    expect(standardised.low).toBeLessThan(0);
    expect(standardised.high).toBeGreaterThan(0);
  });

  it("swapped, the sign changes", () => {
    const swapped = compareProgrammes(second, first);
    for (const { id, difference, standardised } of both.measures) {
      const other = of(swapped, id);
      if (difference.kind === "undefined") continue;
      expect(other.difference.value).toBeCloseTo(-difference.value, 12);
      expect(other.difference.low).toBeCloseTo(-difference.high, 12);
      if (standardised.kind === "undefined") continue;
      expect(other.standardised.high).toBeCloseTo(-standardised.low, 12);
    }
  });

  it("other groups are not matched in silence", () => {
    const other = year({ "4 years": [3, 30] });
    const { measures, notes, standardisedBy } = compareProgrammes(first, other);
    expect(standardisedBy).toBeNull();
    expect(measures[0].standardised.kind).toBe("undefined");
    expect(notes.join(" ")).toContain("Not standardised");
  });

  it("levels have to be alike", () => {
    const other = { ...second, level: 0.9 };
    expect(() => compareProgrammes(first, other)).toThrow(
      "compareProgrammes requires two programmes of one level, got 0.95 and 0.9",
    );
  });

  it("as a table, with its names and the caution", () => {
    const { columns, rows, notes } = comparisonTable(both);
    expect(columns.map(({ label }) => label).slice(1, 3)).toEqual(["2024", "2025"]);
    expect(rows.length).toBeGreaterThan(0);
    expect(notes.at(-1)).toContain("Research use only");
  });
});

describe("limits of a funnel", () => {
  const funnel = funnelLimits(first);
  /** Binomial probabilities by their definition. */
  const pmf = (n: number, p: number) => {
    const all = [(1 - p) ** n];
    for (let x = 1; x <= n; x++) all.push((all[x - 1] * (n - x + 1) * p) / (x * (1 - p)));
    return all;
  };

  it("chance leaves a group beyond them no more often than they say", () => {
    for (const { size, low, high, outerLow, outerHigh } of funnel.limits) {
      const probabilities = pmf(size, funnel.share);
      const beyond = (isBeyond: (share: number) => boolean) =>
        probabilities.reduce((sum, p, x) => sum + (isBeyond(x / size) ? p : 0), 0);
      const hair = 1e-9;
      expect(beyond((share) => share < low - hair)).toBeLessThan(0.025 + hair);
      expect(beyond((share) => share > high + hair)).toBeLessThan(0.025 + hair);
      expect(beyond((share) => share < outerLow - hair)).toBeLessThan(0.001 + hair);
      expect(beyond((share) => share > outerHigh + hair)).toBeLessThan(0.001 + hair);
      expect(outerLow).toBeLessThanOrEqual(low);
      expect(high).toBeLessThanOrEqual(outerHigh);
    }
  });

  it("the groups stand on the side that exact tails give", () => {
    expect(funnel).toMatchObject({ share: 0.15, n: 400 });
    const [young, old] = funnel.groups;
    const tail = (n: number, from: number, to: number) =>
      pmf(n, 0.15)
        .slice(from, to + 1)
        .reduce((sum, p) => sum + p, 0);
    expect(tail(100, 30, 100)).toBeLessThan(0.001);
    expect(tail(300, 0, 30)).toBeLessThan(0.025);
    expect(tail(300, 0, 30)).toBeGreaterThan(0.001);
    expect([young.place, old.place]).toEqual(["far-beyond", "beyond"]);
  });

  it("refuses what is no share, and no grouping", () => {
    expect(() => funnelLimits(first, { measure: "prevalence" })).toThrow("a share of counts");
    expect(() => funnelLimits(first, { by: "school" })).toThrow(
      'funnelLimits requires a grouping of the programme, got "school"; there are age, site',
    );
  });
});
