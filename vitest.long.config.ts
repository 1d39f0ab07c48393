import { mergeConfig } from "vitest/config";
import { testsEnding } from "./vitest.config.js";

/** Tests of `npm test` that do a part of their work there (tests/builders/inFull.ts). */
const fullLength = [
  "tests/disclosure/redTeam.slow.ts",
  "tests/rules/laws.test.ts",
  "tests/simulation/simulateCohort.slow.ts",
  "tests/study/nothingContradicts.test.ts",
  "tests/study/publicScan.slow.ts",
  "tests/study/reportShapes.test.ts",
  "tests/study/smallCohorts.test.ts",
  "tests/thresholds/nestedCoverage.test.ts",
];

// Tests that take longer than a change can wait for.
export default mergeConfig(testsEnding("long"), {
  test: { include: fullLength, env: { TEST_LENGTH: "long" } },
});
