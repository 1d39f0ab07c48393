import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { linkCohort, readFindings, readReadings } from "../../src/cohort/index.js";
import { curvePoints } from "../../src/figures/marks/curvePoints.js";
import { createRandom } from "../../src/inference/index.js";
import { defineProtocol } from "../../src/protocol/index.js";
import type { TwoByTwo } from "../../src/results/index.js";
import { applyRule, defineRule } from "../../src/rules/index.js";
import { benchStops } from "../../src/study/report/benchStops.js";
import { analyseCondition } from "../../src/study/run/analyseCondition.js";

const json = JSON.parse(readFileSync("data/children/protocol.json", "utf8"));
const [condition] = json.conditions;

const eyesOf = (seed: number, n: number) => {
  const random = createRandom(seed);
  const hundredths = (from: number, count: number) => (from + random.integer(count)) / 100;
  return Array.from({ length: n }, (_, child) => ({
    subject: `invented-${child}`,
    eye: "OD",
    sphere: hundredths(-150, 301),
    cylinder: hundredths(-120, 121),
    axis: 180,
  }));
};

const counts = (table: TwoByTwo) => [
  table.truePositive,
  table.falsePositive,
  table.falseNegative,
  table.trueNegative,
];

/** Half hundredths of a whole number, as S + C/2 has them. */
const limitOf = fc.integer({ min: -300, max: 300 }).map((k) => k / 200 + 0);

describe("one limit, one count: table, curve, page, figure and rule", () => {
  it("agree for readings in hundredths, at any limit, strict or not, on either side of zero", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.integer({ min: 1, max: 1e6 }),
        limitOf,
        limitOf,
        fc.constantFrom(["<=", "<"], ["<", "<"], ["<=", "<="], [">=", ">"], [">", ">="]),
        async (seed, limit, targetLimit, [relation, targetRelation]) => {
          const readings = await readReadings(eyesOf(seed, 120));
          const findings = await readFindings(eyesOf(seed + 1, 120));
          const cohort = linkCohort({ readings, findings });
          const protocol = defineProtocol({
            ...json,
            conditions: [
              {
                ...condition,
                target: { quantity: "M", relation: targetRelation, limit: targetLimit },
                referWhen: { quantity: "M", relation, limit },
              },
            ],
          });
          const found = await analyseCondition(cohort, protocol, protocol.conditions[0]!);
          // by whole numbers: twice the hundredths of M against twice those of the limit
          const twice = ({ sphere, cylinder }: { sphere: number; cylinder: number }) =>
            Math.round(sphere * 100) * 2 + Math.round(cylinder * 100);
          const past = (value: number, by: string, at: number) => {
            const beyond = value - Math.round(at * 200);
            if (beyond === 0) return by.endsWith("=");
            return by.startsWith(">") === beyond > 0;
          };
          const test = eyesOf(seed, 120).map((eye) => past(twice(eye), relation!, limit));
          const sick = eyesOf(seed + 1, 120).map((eye) =>
            past(twice(eye), targetRelation!, targetLimit),
          );
          const number = (refers: boolean, has: boolean) =>
            test.filter((is, at) => is === refers && sick[at] === has).length;
          const wanted = [
            number(true, true),
            number(true, false),
            number(false, true),
            number(false, false),
          ];
          expect(counts(found.table)).toEqual(wanted);
          // three decimals where a limit has three
          const digits = Math.round(limit * 200) % 2 === 0 ? 2 : 3;
          expect(found.referWhen).toBe(
            `M ${relation} ${limit > 0 ? "+" : ""}${limit.toFixed(digits)} D`,
          );
          const rule = defineRule({
            kind: "rule",
            id: "invented",
            title: "Invented",
            definition: "own",
            appliesTo: "reading",
            referWhen: [
              {
                criterion: relation!.startsWith(">") ? "hyperopia" : "myopia",
                quantity: "M",
                eye: "right",
                relation,
                limit,
              },
            ],
          });
          expect(applyRule(rule, cohort).counts.refer).toBe(wanted[0]! + wanted[1]!);
          if (found.curve.kind === "undefined") return;
          const strict = !relation!.endsWith("=");
          const distinct = new Set(eyesOf(seed, 120).map(twice)).size;
          expect(found.curve.points.length).toBe(distinct + 1);
          const { marked } = curvePoints(found.curve, [{ cutOff: limit, strict }], "journal");
          expect(counts(marked[0]!)).toEqual(wanted);
          const stop = benchStops(found, protocol).find(({ prespecified }) => prespecified)!;
          expect(counts(stop.table)).toEqual(wanted);
        },
      ),
      { numRuns: 60, seed: 24 },
    );
  });
});
