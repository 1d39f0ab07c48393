import type { SimulationParameter } from "./parameters.js";

/** A row of the parameter table. */
export function parameter(
  value: number,
  unit: string,
  source: string,
  meaning: string,
): SimulationParameter {
  return { value, unit, source, meaning };
}
