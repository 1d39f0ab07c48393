import { defineConfig } from "vitest/config";

// Tests that other programs take part in; they fail where a program is not installed.
export default defineConfig({
  test: {
    include: ["tests/**/*.outside.ts"],
    testTimeout: 600_000,
    hookTimeout: 600_000,
    maxWorkers: 2,
  },
});
