// No estimate of a study contradicts its own counts. A short form here; 10,000 generated studies by
//   COVERAGE_STUDY=long npx vitest run tests/study/nothingContradicts.test.ts
import { readFile } from "node:fs/promises";
import { expect, it } from "vitest";
import type { CorrectedAccuracy } from "../../src/accuracy/index.js";
import { linkCohort, readFindings, readReadings, type SourceRow } from "../../src/cohort/index.js";
import { createRandom } from "../../src/inference/index.js";
import { defineProtocol } from "../../src/protocol/index.js";
import { analyseCondition } from "../../src/study/run/analyseCondition.js";
import type { ConditionResult } from "../../src/study/run/studyResult.js";

const studies = process.env.COVERAGE_STUDY === "long" ? 10_000 : 60;
const json = JSON.parse(await readFile("data/demo/protocol.json", "utf8"));

/** An invented programme of a few children, its ways of examining drawn at random too. */
async function generated(seed: number): Promise<ConditionResult> {
  const random = createRandom(seed);
  const chance = (p: number) => random.uniform() < p;
  const from = (low: number, high: number) => low + random.uniform() * (high - low);
  const children = 20 + random.integer(280);
  const shares = { recorded: chance(0.7), drawn: from(0, 0.9), own: from(0, 0.2) };
  const [departs, unread, came] = [from(0, 0.15), from(0, 0.15), from(0.2, 1)];
  const [studied, own] = [1 + random.integer(4), 1 + random.integer(4)];
  const [reasons, marks] = [chance(0.8), chance(0.5)];
  const readings: SourceRow[] = [];
  const findings: SourceRow[] = [];
  for (let child = 0; child < children; child++) {
    const M = random.normal() * 1.5 + 1.5;
    const read = !chance(unread);
    const value = Math.round((M + random.normal() * 0.7) * 4) / 4;
    const refers = chance(departs) ? !(value >= own) : value >= own;
    const decision = read ? (refers ? "refer" : "pass") : "unable";
    const row = { subject: `c${child}`, ageMonths: 40 + (child % 40), cylinder: 0, axis: 180 };
    for (const eye of ["OD", "OS"]) {
      readings.push({
        ...row,
        eye,
        day: 1,
        ...(read ? { sphere: value } : { sphere: "", cylinder: "", axis: "" }),
        status: read ? "measured" : "unreadable",
        ...(shares.recorded ? { programmeDecision: decision } : {}),
      });
    }
    const drawn = decision === "pass" && chance(shares.drawn);
    const self = decision === "pass" && chance(M >= 3 ? 3 * shares.own : shares.own);
    const examined = decision === "pass" ? drawn || self : chance(came);
    if (!examined) continue;
    const why = decision === "pass" ? (drawn ? "sampled" : "self-presented") : "referred";
    for (const eye of ["OD", "OS"]) {
      findings.push({
        ...row,
        eye,
        day: 9,
        sphere: Math.round(M * 4) / 4,
        verificationReason: reasons ? why : "unknown",
        ...(marks && decision === "pass" ? { selfPresented: self ? "yes" : "no" } : {}),
      });
    }
  }
  if (findings.length === 0) return await generated(seed + 1_000_000);
  const limit = (at: number) => ({ quantity: "M", relation: ">=", limit: at });
  const protocol = defineProtocol({
    ...json,
    conditions: [
      { ...json.conditions[0], target: limit(3), referWhen: limit(studied), choose: undefined },
    ],
    eligibility: {},
    indexTest: { ...json.indexTest, instrument: "instrument", correction: undefined },
    subgroups: [{ by: "age", edgesYears: [5] }],
    undecidable: ["refer", "pass", "exclude"][random.integer(3)],
    ...(chance(0.3) ? { programme: { referWhen: limit(own) } } : {}),
    replicates: 0,
  });
  const cohort = linkCohort({
    readings: await readReadings(readings),
    findings: await readFindings(findings),
  });
  return await analyseCondition(cohort, protocol, protocol.conditions[0], { draws: 100 });
}

function holds({ bounds, ...corrected }: CorrectedAccuracy): void {
  const { truePositive, falsePositive, falseNegative, trueNegative } = bounds.counts.verified;
  for (const [measure, right, wrong] of [
    ["sensitivity", truePositive, falseNegative],
    ["specificity", trueNegative, falsePositive],
  ] as const) {
    const [found, bound] = [corrected[measure], bounds[measure]];
    if (wrong > 0 && bound.kind === "bounds") expect(bound.high).toBeLessThan(1);
    if (wrong > 0 && found.high !== undefined) expect(found.high).toBeLessThan(1);
    if (right > 0 && found.low !== undefined) expect(found.low).toBeGreaterThan(0);
    if (found.kind === "undefined") continue;
    if (bound.kind === "undefined") throw new Error(bound.reason);
    expect(found.value).toBeGreaterThanOrEqual(bound.low - 1e-9);
    expect(found.value).toBeLessThanOrEqual(bound.high + 1e-9);
    expect(found.low).toBeLessThanOrEqual(found.value);
    expect(found.high).toBeGreaterThanOrEqual(found.value);
  }
}

it("known misses, known false referrals and bounds, in generated studies", {
  timeout: 7_200_000,
}, async () => {
  let [points, withKnown, intervals] = [0, 0, 0];
  for (let seed = 1; seed <= studies; seed++) {
    const condition = await generated(seed);
    const { verification, subgroups, worstAndBest, variants } = condition;
    const all = [
      ...verification!.byPolicy.map(({ corrected }) => corrected),
      ...subgroups.flatMap(({ corrected }) => corrected!.map((one) => one.corrected)),
    ];
    for (const corrected of all) holds(corrected);
    const { corrected } = verification!;
    if (corrected.sensitivity.kind === "estimate") points++;
    else if (corrected.sensitivity.high !== undefined) intervals++;
    if (Object.values(corrected.knownOnly).some((count) => count > 0)) withKnown++;
    // everyone screened is in one place
    const { verified, unverified } = corrected.bounds.counts;
    const examined = Object.values(verified).reduce((sum, cell) => sum + cell, 0);
    expect(examined + unverified.testPositive + unverified.testNegative).toBe(corrected.n);
    // worst to best holds every policy's value, as examined
    for (const measure of ["sensitivity", "specificity"] as const) {
      const range = worstAndBest[measure];
      if (range.kind === "undefined") continue;
      for (const { table } of variants.variants.map(({ accuracy }) => accuracy)) {
        const [right, wrong] =
          measure === "sensitivity"
            ? [table.truePositive, table.falseNegative]
            : [table.trueNegative, table.falsePositive];
        if (right + wrong === 0) continue;
        expect(right / (right + wrong)).toBeGreaterThanOrEqual(range.low - 1e-9);
        expect(right / (right + wrong)).toBeLessThanOrEqual(range.high + 1e-9);
      }
    }
    expect(JSON.stringify(condition)).not.toContain("NaN");
  }
  console.log(
    `${studies} studies: ${points} with a point, ${intervals} with an interval only, ${withKnown} with children known but standing for nobody`,
  );
  // the test means something: each kind occurs
  expect(Math.min(points, intervals, withKnown)).toBeGreaterThan(0);
});
