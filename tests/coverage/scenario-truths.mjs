// The truth of each named scenario from 10,000,000 children, written as data into
// src/simulation/scenarioTruths.ts. Takes about a minute a scenario on one core. After a build:
//   node tests/coverage/scenario-truths.mjs
import { writeFileSync } from "node:fs";
import { simulateTruth, simulationScenarios } from "../../dist/simulation/index.js";

const children = Number(process.argv[2] ?? 10_000_000);
const seed = 20_261_125;
const truths = [];
for (const scenario of Object.keys(simulationScenarios)) {
  const start = performance.now();
  truths.push(await simulateTruth({ children, seed, scenario }));
  console.log(`${scenario}: ${((performance.now() - start) / 1000).toFixed(0)} s`);
}
// Twelve digits are kept, far below the Monte Carlo error.
const rounded = JSON.stringify(
  truths,
  (_, value) => (typeof value === "number" ? Number(value.toPrecision(12)) : value),
  2,
);
writeFileSync(
  new URL("../../src/simulation/scenarioTruths.ts", import.meta.url),
  `// Written by tests/coverage/scenario-truths.mjs; not by hand.
import type { ScenarioTruth } from "./truthOfTally.js";

export const scenarioTruths: readonly ScenarioTruth[] = ${rounded};
`,
);
