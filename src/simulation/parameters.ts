import { accommodation, handheld, table } from "./instrumentParameters.js";
import { population } from "./populationParameters.js";
import { programme, reference } from "./programmeParameters.js";

type ParameterValues<Group> = { readonly [Name in keyof Group]: number };

/** Every parameter of the generator, by group; numbers only. */
export interface SimulationParameters {
  readonly population: ParameterValues<typeof population>;
  readonly accommodation: ParameterValues<typeof accommodation>;
  readonly handheld: ParameterValues<typeof handheld>;
  readonly table: ParameterValues<typeof table>;
  readonly reference: ParameterValues<typeof reference>;
  readonly programme: ParameterValues<typeof programme>;
}

/** Some of the parameters, by group; what is left out keeps its value. */
export type SimulationOverrides = {
  readonly [Group in keyof SimulationParameters]?: Partial<SimulationParameters[Group]>;
};

/**
 * The whole table of parameters: value, unit, source and meaning of each.
 *
 * @example
 * simulationParameters.population.ageLow.value // => 36
 */
export const simulationParameters = {
  population,
  accommodation,
  handheld,
  table,
  reference,
  programme,
} as const;
