import { InputError } from "../results/index.js";
import type { SimulationParameter } from "./parameter.js";
import {
  type SimulationOverrides,
  type SimulationParameters,
  simulationParameters,
} from "./parameters.js";
import { type ScenarioName, simulationScenarios } from "./scenarios.js";

/** The values that hold: defaults, then the scenario's, then the caller's. */
export function resolveParameters(
  scenario: ScenarioName,
  overrides: SimulationOverrides = {},
): SimulationParameters {
  if (!Object.hasOwn(simulationScenarios, scenario)) {
    const names = Object.keys(simulationScenarios).join(", ");
    throw new InputError(`simulateCohort requires a scenario of ${names}, got ${scenario}`);
  }
  const resolved: Record<string, Record<string, number>> = {};
  for (const [group, rows] of Object.entries(simulationParameters)) {
    resolved[group] = {};
    for (const [name, row] of Object.entries(rows)) resolved[group][name] = row.value;
  }
  for (const layer of [simulationScenarios[scenario].parameters, overrides]) {
    for (const [group, values] of Object.entries(layer)) {
      for (const [name, value] of Object.entries(values ?? {})) {
        if (resolved[group]?.[name] === undefined) {
          throw new InputError(`simulateCohort requires a known parameter, got "${group}.${name}"`);
        }
        if (typeof value !== "number" || !Number.isFinite(value)) {
          throw new InputError(
            `simulateCohort requires a finite number for "${group}.${name}", got ${String(value)}`,
          );
        }
        resolved[group][name] = value;
      }
    }
  }
  const parameters = resolved as unknown as SimulationParameters;
  checkParameters(parameters);
  return parameters;
}

/** Shares within 0 and 1, SDs and steps not negative, and the few that must fit each other. */
function checkParameters(parameters: SimulationParameters): void {
  for (const [group, rows] of Object.entries(simulationParameters)) {
    for (const [name, { unit }] of Object.entries(rows as Record<string, SimulationParameter>)) {
      const value = (parameters as unknown as Record<string, Record<string, number>>)[group][name];
      if (unit === "share" && (value < 0 || value > 1)) {
        refuse(group, name, "a share within 0 and 1", value);
      }
      if (unit === "correlation" && Math.abs(value) > 1) {
        refuse(group, name, "a correlation within -1 and 1", value);
      }
      if (/(Sd|SdInfant|SdAdult)$/.test(name) && value < 0) {
        refuse(group, name, "an SD of 0 or more", value);
      }
      if ((name === "step" || /(Fade|Spread|Odds)$/.test(name)) && value <= 0) {
        refuse(group, name, "a positive number", value);
      }
    }
  }
  const { population, accommodation } = parameters;
  for (const name of ["ageLow", "ageHigh", "sites", "days"] as const) {
    const value = population[name];
    if (!Number.isInteger(value) || value < 1) {
      refuse("population", name, "a positive whole number", value);
    }
  }
  if (population.sites > 255) refuse("population", "sites", "at most 255 sites", population.sites);
  if (population.ageHigh < population.ageLow) {
    refuse("population", "ageHigh", "an age not below ageLow", population.ageHigh);
  }
  if (population.j0Correlation < 0) {
    refuse("population", "j0Correlation", "a correlation not below 0", population.j0Correlation);
  }
  if (accommodation.schoolAge <= accommodation.youngAge) {
    refuse("accommodation", "schoolAge", "an age above youngAge", accommodation.schoolAge);
  }
  for (const instrument of ["handheld", "table"] as const) {
    const { qualityLasting, qualityShared } = parameters[instrument];
    if (qualityLasting + qualityShared > 1) {
      refuse(instrument, "qualityShared", "at most 1 with qualityLasting", qualityShared);
    }
  }
}

function refuse(group: string, name: string, requirement: string, value: number): never {
  throw new InputError(`simulateCohort requires ${requirement} for ${group}.${name}, got ${value}`);
}
