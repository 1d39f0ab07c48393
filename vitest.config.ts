import { defineConfig } from "vitest/config";

/** Tests by the ending of their names; no limit that a slow machine could reach. */
export const testsEnding = (ending: string) =>
  defineConfig({
    test: {
      include: [`tests/**/*.${ending}.ts`],
      testTimeout: 600_000,
      hookTimeout: 600_000,
      maxWorkers: 2,
      // a room is loaded once for all files of a worker: half of the time
      isolate: false,
      benchmark: { include: ["tests/**/*.bench.ts"] },
    },
  });

export default testsEnding("test");
