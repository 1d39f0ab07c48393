// Before each file of tests: what it meets (tests/mutation/byFile.mjs), or how often it may meet the mutant.
import { appendFileSync } from "node:fs";
import { afterAll, expect } from "vitest";

interface Namespace {
  activeMutant?: string;
  currentTestId?: string;
  hitCount?: number;
  hitLimit?: number;
  mutantCoverage?: { static: Hits; perTest: { [id: string]: Hits } };
}
type Hits = { [mutant: string]: number };

const shared = globalThis as unknown as { __stryker__?: Namespace };
shared.__stryker__ ??= {};
const namespace = shared.__stryker__;
const path = process.env.MUTATION_COVERAGE;

if (path === undefined) {
  namespace.activeMutant = process.env.__STRYKER_ACTIVE_MUTANT__;
  namespace.hitCount = 0;
  namespace.hitLimit = Number(process.env.MUTATION_HIT_LIMIT);
} else {
  const seconds = () => {
    const { user, system } = process.cpuUsage();
    return (user + system) / 1e6;
  };
  const began = seconds();
  namespace.currentTestId = "loaded";
  await import("../../src/internal.js");
  await import("../../src/index.js");
  namespace.currentTestId = undefined;
  afterAll(() => {
    const { static: hits = {}, perTest = {} } = namespace.mutantCoverage ?? {};
    const loaded = Object.keys(perTest.loaded ?? {});
    const file = expect.getState().testPath;
    appendFileSync(path, `${JSON.stringify({ file, seconds: seconds() - began, loaded, hits })}\n`);
  });
}
