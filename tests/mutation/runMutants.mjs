import { writeFileSync } from "node:fs";
import { resolve } from "node:path";
import { Stryker } from "@stryker-mutator/core";
import { keyOf, rangeOf } from "./mutants.mjs";

/**
 * What became of the mutants, by Stryker.
 *
 * @param tests folders of tests, the nearest first, with commas between them
 */
export async function runMutants(mutants, tests, concurrency) {
  process.env.MUTATION_SAMPLE = resolve("out/mutation/sample.json");
  process.env.MUTATION_TESTS = tests;
  writeFileSync(process.env.MUTATION_SAMPLE, JSON.stringify(mutants.map((mutant) => keyOf(mutant))));
  const results = await new Stryker({
    mutate: mutants.map(rangeOf),
    testRunner: "vitest",
    vitest: { configFile: "vitest.mutation.config.ts", related: false },
    plugins: ["@stryker-mutator/vitest-runner", resolve("tests/mutation/sampled.mjs")],
    checkers: ["sampled"],
    coverageAnalysis: "perTest",
    concurrency,
    disableTypeChecks: false,
    tempDirName: "out/mutation/sandbox",
    ignorePatterns: ["out", "notebooks", "figures/*.png", "figures/*.svg"],
    reporters: ["progress-append-only", "counted"],
    dryRunTimeoutMinutes: 30,
    timeoutMS: 60_000,
    allowConsoleColors: false,
  }).runMutationTest();
  const all = Number(process.env.MUTATION_TEST_COUNT);
  return results
    .filter(({ status }) => status !== "CompileError")
    .map((mutant) => ({ key: keyOf(mutant, 1), status: statusOf(mutant, all) }));
}

/**
 * The runner counts tests alone. A file whose suite fails while it is read, or before its first test, has
 * none: then fewer tests ended than there are, and the mutant was told from the program all the same.
 */
function statusOf({ status, static: everywhere, testsCompleted, coveredBy }, all) {
  const expected = everywhere ? all : (coveredBy?.length ?? 0);
  return status === "Survived" && testsCompleted < expected ? "Killed" : status;
}
