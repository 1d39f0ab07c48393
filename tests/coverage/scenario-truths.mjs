// The truth of each named scenario from 10,000,000 children, written as data into
// src/simulation/truths/. Takes about a minute a scenario on one core. After a build:
//   node tests/coverage/scenario-truths.mjs
import { writeFileSync } from "node:fs";
import { simulateTruth, simulationScenarios } from "../../dist/simulation/index.js";

const children = 10_000_000;
const seed = 20_261_125;
for (const scenario of Object.keys(simulationScenarios)) {
  const start = performance.now();
  writeTruth(await simulateTruth({ children, seed, scenario }));
  console.log(`${scenario}: ${((performance.now() - start) / 1000).toFixed(0)} s`);
}

/** Twelve digits are kept, far below the Monte Carlo error. */
function writeTruth(truth) {
  const short = (_, value) => (typeof value === "number" ? Number(value.toPrecision(12)) : value);
  writeFileSync(
    new URL(`../../src/simulation/truths/${truth.scenario}.json`, import.meta.url),
    `${JSON.stringify(truth, short, 2)}\n`,
  );
}
