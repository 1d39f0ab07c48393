import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Protocol } from "../../src/protocol/index.js";
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
  it("stops at every reading, the limit fixed in advance and a chosen one among them", () => {
    fc.assert(
      fc.property(binsAnd, ([bins, chosen]) => {
        const large = bins.map(([sick, well]) => [sick + 11, well + 11] as const);
        const { condition, cutOffs } = conditionOf(large, chosen);
        const stops = benchStops(condition, protocolOf("journal"));
        const shown = cutOffs;
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
});
