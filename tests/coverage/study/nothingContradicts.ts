import { readFile } from "node:fs/promises";
import { expect } from "vitest";
import type { CorrectedAccuracy } from "../../../src/accuracy/index.js";
import {
  linkCohort,
  readFindings,
  readReadings,
  type SourceRow,
} from "../../../src/cohort/index.js";
import { createRandom } from "../../../src/inference/index.js";
import { defineProtocol } from "../../../src/protocol/index.js";
import { analyseCondition } from "../../../src/study/run/analyseCondition.js";
import type { ConditionResult } from "../../../src/study/run/studyResult.js";

const { programme: _, ...json } = JSON.parse(await readFile("data/demo/protocol.json", "utf8"));

/** What occurred among generated studies. */
export interface Occurred {
  readonly studies: number;
  /** A value of corrected sensitivity; an interval and no value; neither. */
  readonly points: number;
  readonly intervals: number;
  readonly neither: number;
  /** Studies with known missed cases, known false referrals, and children who stand for nobody. */
  readonly misses: number;
  readonly falseReferrals: number;
  readonly knownOnly: number;
  /** Corrected results looked at: policies, subgroups, stops of the limit. */
  readonly corrected: number;
  readonly stops: number;
  /** Values withheld because they would have contradicted their counts. */
  readonly withheld: number;
}

/** An invented programme of a few children, its ways of examining drawn at random too. */
async function generatedStudy(seed: number): Promise<ConditionResult> {
  const random = createRandom(seed);
  const chance = (p: number) => random.uniform() < p;
  const from = (low: number, high: number) => low + random.uniform() * (high - low);
  const children = Math.round(20 * 40 ** random.uniform());
  const byEye = chance(0.25);
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
  if (findings.length === 0) return await generatedStudy(seed + 1_000_000);
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
    ...(byEye ? { unit: "eye", eye: "both" } : {}),
    ...(chance(0.3) ? { programme: { referWhen: limit(own) } } : {}),
    replicates: 0,
  });
  const cohort = linkCohort({
    readings: await readReadings(readings),
    findings: await readFindings(findings),
  });
  return await analyseCondition(cohort, protocol, protocol.conditions[0], {
    workers: 1,
  });
}

/** Everything that has to hold of one study; adds to what occurred. */
export async function checkStudy(seed: number, occurred: Occurred): Promise<Occurred> {
  const { verification, subgroups, worstAndBest, variants, atStops } = await generatedStudy(seed);
  const all = [
    ...verification!.byPolicy.map(({ corrected }) => corrected),
    ...subgroups.flatMap(({ corrected }) => corrected!.map((one) => one.corrected)),
  ];
  for (const corrected of all) holds(corrected);
  const { corrected } = verification!;
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
  // an interval holds its value wherever the limit stands
  for (const stop of atStops ?? []) {
    for (const measure of ["sensitivity", "specificity"] as const) {
      const { value, low, high } = stop[measure];
      if (value === undefined) continue;
      expect(low).toBeLessThanOrEqual(value);
      expect(high).toBeGreaterThanOrEqual(value);
    }
  }
  expect(JSON.stringify({ verification, subgroups, atStops })).not.toContain("NaN");
  const { sensitivity } = corrected;
  const isPoint = sensitivity.kind === "estimate";
  const isInterval = !isPoint && sensitivity.high !== undefined;
  const rates = all.flatMap((one) => [one.sensitivity, one.specificity]);
  const add = (name: keyof Occurred, more: number | boolean) => occurred[name] + Number(more);
  return {
    studies: add("studies", 1),
    points: add("points", isPoint),
    intervals: add("intervals", isInterval),
    neither: add("neither", !isPoint && !isInterval),
    misses: add("misses", verified.falseNegative > 0),
    falseReferrals: add("falseReferrals", verified.falsePositive > 0),
    knownOnly: add(
      "knownOnly",
      Object.values(corrected.knownOnly).some((count) => count > 0),
    ),
    corrected: add("corrected", all.length),
    stops: add("stops", atStops?.length ?? 0),
    withheld: add(
      "withheld",
      rates.filter((rate) => rate.kind === "undefined" && rate.reason.startsWith(withheldWords))
        .length,
    ),
  };
}

const withheldWords = "it would contradict its own counts";

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
