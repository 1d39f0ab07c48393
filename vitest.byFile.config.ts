import { readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { defineConfig } from "vitest/config";
import { BaseSequencer, type TestSpecification } from "vitest/node";

const sources: { readonly [path: string]: string } = JSON.parse(
  readFileSync(join(process.env.MUTATION_BY_FILE!, "sources.json"), "utf8"),
);

// The quick files first: most mutants end there.
class QuickFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]) {
    const order: string[] = JSON.parse(process.env.MUTATION_ORDER ?? "[]");
    const place = ({ moduleId }: TestSpecification) => order.indexOf(moduleId);
    return [...files].sort((a, b) => place(a) - place(b));
  }
}

// tests/mutation/byFile.mjs: the sources with the mutants in them, one after the other switched on.
export default defineConfig({
  plugins: [
    {
      name: "mutants",
      enforce: "pre",
      load: (id) => sources[relative(import.meta.dirname, id.split("?")[0]!)],
    },
  ],
  test: {
    include: JSON.parse(process.env.MUTATION_FILES!),
    setupFiles: ["tests/mutation/byFileSetup.ts"],
    fileParallelism: false,
    bail: process.env.MUTATION_COVERAGE === undefined ? 1 : 0,
    testTimeout: 600_000,
    hookTimeout: 600_000,
    sequence: { sequencer: QuickFirst },
  },
});
