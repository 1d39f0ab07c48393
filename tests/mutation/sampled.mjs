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

export const strykerPlugins = [{ kind: "Checker", name: "sampled", injectableClass: Sampled }];
