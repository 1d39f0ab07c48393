// No estimate of a study contradicts its own counts. A short form here; the long one generates
// 10,000 studies and writes what occurred to tests/coverage/study/nothingContradicts.json:
//   COVERAGE_STUDY=long npx vitest run tests/study/nothingContradicts.test.ts
import { readFileSync, writeFileSync } from "node:fs";
import { expect, it } from "vitest";
import { inFull } from "../builders/inFull.js";
import { checkStudy, type Occurred } from "../coverage/study/nothingContradicts.js";

const file = new URL("../coverage/study/nothingContradicts.json", import.meta.url);
const isLong = process.env.COVERAGE_STUDY === "long";
const studies = isLong ? 10_000 : inFull(25, 40);
const none: Occurred = {
  studies: 0,
  points: 0,
  intervals: 0,
  neither: 0,
  misses: 0,
  falseReferrals: 0,
  knownOnly: 0,
  corrected: 0,
  stops: 0,
  withheld: 0,
};

/** The test means something: each kind occurs. */
function meansSomething({ points, intervals, neither, ...occurred }: Occurred) {
  const { misses, falseReferrals, knownOnly } = occurred;
  expect(Math.min(points, intervals, neither, misses, falseReferrals, knownOnly)).toBeGreaterThan(
    0,
  );
}

it("known misses, known false referrals and bounds, in generated studies", {
  timeout: 14_400_000,
}, async () => {
  let occurred = none;
  for (let seed = 1; seed <= studies; seed++) {
    occurred = await checkStudy(seed, occurred);
    if (isLong && seed % 500 === 0) console.log(JSON.stringify(occurred));
  }
  meansSomething(occurred);
  if (isLong) writeFileSync(file, `${JSON.stringify(occurred, null, 2)}\n`);
});

it("the committed run: 10,000 studies", () => {
  const committed = JSON.parse(readFileSync(file, "utf8")) as Occurred;
  expect(committed.studies).toBe(10_000);
  meansSomething(committed);
});
