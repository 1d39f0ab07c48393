import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.ts"],
    testTimeout: 600_000,
    hookTimeout: 600_000,
    maxWorkers: 2,
    benchmark: { include: ["tests/**/*.bench.ts"] },
  },
});
