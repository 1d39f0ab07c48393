import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { shareBands } from "../../src/privacy/shareBands.js";
import { shownTogether } from "../../src/privacy/shownTogether.js";

const small = (count: number) => count > 0 && count < 11;

const series = fc
  .array(fc.tuple(fc.nat(9), fc.nat(25)), { minLength: 1, maxLength: 60 })
  .map((steps) => {
    let counts: [number, number] = [0, 0];
    const members = steps.map(([a, b]) => {
      counts = [counts[0] + a, counts[1] + b];
      return counts;
    });
    return { members: [[0, 0], ...members], totals: counts };
  });

describe("shownTogether", () => {
  it("shows no count, rest or difference from 1 to 10, whichever comes first", () => {
    fc.assert(
      fc.property(series, fc.nat(59), ({ members, totals }, wish) => {
        const first = [Math.min(wish, members.length - 1)];
        const shown = shownTogether(members, totals, { first });
        const kept = members.filter((_, at) => shown[at]);
        // by definition: every pair, the ends among them
        for (const which of [0, 1]) {
          const known = [0, totals[which]!, ...kept.map((member) => member[which]!)];
          for (const one of known) {
            for (const other of known) {
              const ends = [one, other].every((end) => end === 0 || end === totals[which]);
              if (!ends) expect(small(Math.abs(one - other))).toBe(false);
            }
          }
        }
        // the first and the last are the totals, which are known
        expect([shown[0], shown.at(-1)]).toEqual([true, true]);
      }),
    );
  });

  it("leaves out nothing that could be shown beside the rest", () => {
    fc.assert(
      fc.property(series, ({ members, totals }) => {
        const shown = shownTogether(members, totals);
        const kept = members.filter((_, at) => shown[at]);
        members.forEach((member, at) => {
          if (shown[at]) return;
          const clash = member.some((count, which) =>
            [0, totals[which]!, ...kept.map((other) => other[which]!)].some((other) =>
              small(Math.abs(other - count)),
            ),
          );
          expect(clash).toBe(true);
        });
      }),
    );
  });

  it("takes sums of weights, and a wish that cannot be granted gives way", () => {
    expect(shownTogether([[0.1 + 0.2], [0.3], [30]], [60])).toEqual([false, false, true]);
    expect(shownTogether([[3], [20]], [60], { first: [0] })).toEqual([false, true]);
    expect(() => shownTogether([[1, 2]], [3])).toThrow("1 counts a member, got 2");
    expect(() => shownTogether([[4]], [3])).toThrow("from 0 to their total 3, got 4");
  });

  it("is quick with 100,000 members", () => {
    const members = Array.from({ length: 100_000 }, (_, at) => [at, 2 * at]);
    const shown = shownTogether(members, [99_999, 199_998]);
    expect(shown.filter(Boolean)).toHaveLength(9091);
  });
});

describe("shareBands", () => {
  it("holds at least 11 counts in each band, and none is narrower than a tenth", () => {
    fc.assert(
      fc.property(fc.integer({ min: 11, max: 3000 }), (total) => {
        const bands = shareBands(total);
        expect(bands[0]!.low).toBe(0);
        expect(bands.at(-1)!.high).toBe(1);
        for (const { low, high } of bands) {
          expect(high - low).toBeGreaterThan(0.0999);
          const inside = Array.from({ length: total + 1 }, (_, count) => count / total).filter(
            (rate) => rate >= low && (rate < high || high === 1),
          );
          expect(inside.length).toBeGreaterThanOrEqual(11);
        }
      }),
    );
    expect(() => shareBands(10)).toThrow("at least 11 in all");
  });
});
