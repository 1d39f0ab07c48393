import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { curvePoints } from "../../src/figures/marks/curvePoints.js";
import type { Protocol } from "../../src/protocol/index.js";
import type { TwoByTwo } from "../../src/results/index.js";
import { benchStops } from "../../src/study/report/benchStops.js";
import type { ConditionResult } from "../../src/study/run/studyResult.js";
import { partOf } from "../builders/partOf.js";

/** A condition on a limit of +2.50 D with these counts at each reading, from the highest down. */
function conditionOf(bins: readonly (readonly [number, number])[], chosen: number | null) {
  const cutOffs = bins.map((_, at) => 5 - at * 0.25);
  const all = [0, 1].map((side) => bins.reduce((sum, bin) => sum + bin[side], 0));
  const points = [null, ...cutOffs].map((cutOff, at) => {
    const [truePositive, falsePositive] = [0, 1].map((side) =>
      bins.slice(0, at).reduce((sum, bin) => sum + bin[side], 0),
    );
    return {
      cutOff,
      truePositive,
      falsePositive,
      falseNegative: all[0] - truePositive,
      trueNegative: all[1] - falsePositive,
    };
  });
  const share = { sensitivity: 0.5, specificity: 0.5, youdenIndex: 0 };
  const none = { kind: "undefined", reason: "none" } as const;
  const condition = partOf<ConditionResult>({
    id: "one",
    curve: { kind: "roc-curve", points },
    chosen:
      chosen === null
        ? null
        : {
            kind: "threshold-choice",
            cutOff: cutOffs[chosen],
            corrected: share,
            correctedIntervals: { sensitivity: none, specificity: none },
            crossValidated: null,
          },
    verification: null,
    weighted: null,
  });
  return { condition, cutOffs, all };
}

const protocolOf = (audience: "public" | "journal") =>
  partOf<Protocol>({
    audience,
    level: 0.95,
    verification: "complete",
    sampling: "cohort",
    conditions: [{ id: "one", referWhen: { quantity: "M", relation: ">=", limit: 2.5 } }],
  });

const binsAnd = fc
  .array(fc.tuple(fc.integer({ min: 0, max: 30 }), fc.integer({ min: 0, max: 60 })), {
    minLength: 12,
    maxLength: 30,
  })
  .filter((bins) => bins.some(([sick]) => sick > 0) && bins.some(([, well]) => well > 0))
  .chain((bins) => fc.tuple(fc.constant(bins), fc.integer({ min: 0, max: bins.length - 1 })));

describe("benchStops", () => {
  it("stops for the public where the report's curve has points, and nowhere else", () => {
    fc.assert(
      fc.property(binsAnd, ([bins, chosen]) => {
        const { condition, cutOffs } = conditionOf(bins, chosen);
        const stops = benchStops(condition, protocolOf("public"));
        const { curve } = condition;
        if (curve.kind === "undefined") throw new Error("no curve");
        const marked = [2.5, cutOffs[chosen]!].map((cutOff) => ({ cutOff }));
        const { points } = curvePoints({ ...curve, positiveWhen: "high" }, marked, "public");
        const counts = (tables: readonly TwoByTwo[]) =>
          new Set(tables.map((table) => `${table.truePositive}/${table.falsePositive}`));
        const drawn = counts(
          points.filter(
            ({ truePositive, falsePositive, falseNegative, trueNegative }) =>
              truePositive + falsePositive > 0 && falseNegative + trueNegative > 0,
          ),
        );
        const stopped = counts(
          stops
            .map(({ table }) => table)
            .filter(({ truePositive, falsePositive }) => truePositive + falsePositive > 0),
        );
        expect(stopped).toEqual(drawn);
      }),
      { seed: 15, numRuns: 300 },
    );
  });

  it("leaves no count of 1 to 10 between two public stops or beyond the ends", () => {
    fc.assert(
      fc.property(binsAnd, ([bins, chosen]) => {
        const { condition, all } = conditionOf(bins, chosen);
        const stops = benchStops(condition, protocolOf("public"));
        const edges = [
          [0, 0],
          ...stops.map(({ table }) => [table.truePositive, table.falsePositive]),
          all,
        ];
        edges.slice(1).forEach((edge, at) => {
          for (const side of [0, 1]) {
            const between = edge[side] - edges[at][side];
            expect(between === 0 || between >= 11).toBe(true);
          }
        });
      }),
      { seed: 14, numRuns: 300 },
    );
  });

  it("keeps the limit fixed in advance and a chosen one where the counts allow it", () => {
    fc.assert(
      fc.property(binsAnd, ([bins, chosen]) => {
        const large = bins.map(([sick, well]) => [sick + 11, well + 11] as const);
        const { condition, cutOffs } = conditionOf(large, chosen);
        const stops = benchStops(condition, protocolOf("public"));
        // all but the last, where everybody is referred: it is the reading of one child
        const shown = cutOffs.slice(0, -1);
        expect(stops.map(({ cutOff }) => cutOff)).toEqual(shown);
        expect(
          stops.filter(({ prespecified }) => prespecified).map(({ cutOff }) => cutOff),
        ).toEqual([2.5]);
        const corrected = stops.filter((stop) => stop.corrected !== null);
        expect(corrected.map(({ cutOff }) => cutOff)).toEqual(
          shown.filter((cutOff) => cutOff === cutOffs[chosen]),
        );
      }),
      { seed: 14, numRuns: 100 },
    );
  });

  it("lets a chosen limit go rather than the one fixed in advance", () => {
    // +2.50 D is the eleventh reading; the chosen one is next to it, 5 with the condition between
    const bins = Array.from({ length: 21 }, (_, at): [number, number] => [at === 11 ? 5 : 20, 20]);
    const { condition } = conditionOf(bins, 11);
    const stops = benchStops(condition, protocolOf("public"));
    expect(stops.some(({ prespecified }) => prespecified)).toBe(true);
    expect(stops.some(({ corrected }) => corrected !== null)).toBe(false);
    const all = benchStops(condition, protocolOf("journal"));
    expect(all).toHaveLength(21);
    expect(all[11].corrected).toContain("The run chose this limit.");
  });
});
