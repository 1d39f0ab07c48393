/** A row of the parameter table. */
export function parameter(
  value: number,
  unit: string,
  source: string,
  meaning: string,
): SimulationParameter {
  return { value, unit, source, meaning };
}

/** One parameter of the generator: its default, its unit, where the value comes from. */
export interface SimulationParameter {
  readonly value: number;
  readonly unit: string;
  readonly source: string;
  readonly meaning: string;
}
