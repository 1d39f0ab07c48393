import { InputError } from "../results/index.js";
import type { ScenarioName } from "./scenarios.js";
import { scenarioTruths } from "./scenarioTruths.js";
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
  const truth = scenarioTruths.find((candidate) => candidate.scenario === scenario);
  if (truth === undefined) {
    throw new InputError(`scenarioTruth requires a named scenario, got "${scenario}"`);
  }
  return truth;
}
