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
    reporters: ["progress-append-only"],
    dryRunTimeoutMinutes: 30,
    timeoutMS: 20_000,
    allowConsoleColors: false,
  }).runMutationTest();
  return results
    .filter(({ status }) => status !== "CompileError")
    .map((mutant) => ({ key: keyOf(mutant, 1), status: mutant.status }));
}
