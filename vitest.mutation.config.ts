import { readFileSync } from "node:fs";
import { defineConfig } from "vitest/config";
import { BaseSequencer, type TestSpecification } from "vitest/node";

const folders = (process.env.MUTATION_TESTS ?? "*").split(",");

// The nearest tests first, and of them the short ones: most mutants end there.
class NearestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]) {
    const place = ({ moduleId }: TestSpecification) =>
      folders.findIndex((folder) => moduleId.includes(`/tests/${folder}/`));
    const length = ({ moduleId }: TestSpecification) => readFileSync(moduleId).length;
    return [...files].sort((a, b) => place(a) - place(b) || length(a) - length(b));
  }
}

// Under a mutant one file after the other runs in one thread. Left out are studies of coverage, and what
// starts programs, notebooks or the built package, where no mutant stands.
export default defineConfig({
  test: {
    include: folders.map((folder) => `tests/${folder}/**/*.{test,slow}.ts`),
    exclude: [
      "tests/**/{coverage,nestedCoverage,searchCoverage}.test.ts",
      "tests/{cli,notebook,prepare}/**",
      "tests/cohort/{auditCommand.slow,largeFile.test}.ts",
      "tests/printed/printedCommand.slow.ts",
      "tests/simulation/demo.slow.ts",
    ],
    isolate: false,
    fileParallelism: false,
    testTimeout: 600_000,
    hookTimeout: 600_000,
    sequence: { sequencer: NearestFirst },
  },
});
