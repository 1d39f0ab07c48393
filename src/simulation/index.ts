// Seeded cohorts with known truth.

export type { SimulatedInstrument } from "./drawBlock.js";
export type { SimulationParameter } from "./parameter.js";
export {
  type SimulationOverrides,
  type SimulationParameters,
  simulationParameters,
} from "./parameters.js";
export { defaultCondition, defaultReferral } from "./plainLimits.js";
export { type ScenarioName, type SimulationScenario, simulationScenarios } from "./scenarios.js";
export { scenarioTruth } from "./scenarioTruth.js";
export { type SimulatedCohort, type SimulationOptions, simulateCohort } from "./simulateCohort.js";
export type {
  SimulatedChild,
  SimulatedEye,
  SimulatedRules,
} from "./simulatedChild.js";
export type { SimulatedTruth, VectorColumns } from "./simulatedTruth.js";
export { simulateTruth } from "./simulateTruth.js";
export type {
  DecisionCounts,
  MonteCarlo,
  ScenarioTruth,
  TrueAccuracy,
  TrueDifference,
} from "./truthOfTally.js";
