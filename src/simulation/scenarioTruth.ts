import { packageText } from "../platform/index.js";
import { InputError } from "../results/index.js";
import { type ScenarioName, simulationScenarios } from "./scenarios.js";
import type { ScenarioTruth } from "./truthOfTally.js";

/**
 * What is true of a named scenario under the default rules, from 10,000,000 invented children, with
 * the Monte Carlo error of each number: a committed result of `simulateTruth`, not computed anew.
 *
 * Rates are proportions, 0 to 1; agreement is in dioptres.
 *
 * @throws when there is no such scenario
 *
 * @example
 * scenarioTruth("complete").n // => 10000000
 */
export function scenarioTruth(scenario: ScenarioName): ScenarioTruth {
  if (!Object.hasOwn(simulationScenarios, scenario)) {
    throw new InputError(`scenarioTruth requires a named scenario, got "${scenario}"`);
  }
  const truth =
    read.get(scenario) ?? JSON.parse(packageText(`src/simulation/truths/${scenario}.json`));
  read.set(scenario, truth);
  return truth;
}

const read = new Map<ScenarioName, ScenarioTruth>();
