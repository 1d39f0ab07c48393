import { readFileSync } from "node:fs";
import { keyOf } from "./mutants.mjs";

// A range holds mutants that the sample left out; Stryker runs what every checker passes.
class Sampled {
  async init() {
    this.sampled = new Set(JSON.parse(readFileSync(process.env.MUTATION_SAMPLE, "utf8")));
  }

  group(mutants) {
    return [mutants.map(({ id }) => id)];
  }

  check(mutants) {
    return Object.fromEntries(
      mutants.map((mutant) => [
        mutant.id,
        this.sampled.has(keyOf(mutant))
          ? { status: "passed" }
          : { status: "compileError", reason: "not in the sample" },
      ]),
    );
  }
}

// How many tests there are without a mutant.
class Counted {
  onDryRunCompleted({ result }) {
    process.env.MUTATION_TEST_COUNT = String(result.tests.filter(({ status }) => status === 0).length);
  }
}

export const strykerPlugins = [
  { kind: "Checker", name: "sampled", injectableClass: Sampled },
  { kind: "Reporter", name: "counted", injectableClass: Counted },
];
