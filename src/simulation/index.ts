export type { SimulatedInstrument } from "./drawBlock.js";
export type {
  SimulationOverrides,
  SimulationParameter,
  SimulationParameters,
} from "./parameters.js";
export { simulationParameters } from "./parameters.js";
export { defaultCondition, defaultReferral } from "./plainLimits.js";
export { type ScenarioName, type SimulationScenario, simulationScenarios } from "./scenarios.js";
export { scenarioTruth } from "./scenarioTruth.js";
export type {
  SimulatedCohort,
  SimulatedTruth,
  SimulationOptions,
  VectorColumns,
} from "./simulateCohort.js";
export { simulateCohort } from "./simulateCohort.js";
export type {
  SimulatedChild,
  SimulatedDecision,
  SimulatedEye,
  SimulatedRules,
} from "./simulatedChild.js";
export { simulateTruth } from "./simulateTruth.js";
export type {
  DecisionCounts,
  MonteCarlo,
  ScenarioTruth,
  TrueAccuracy,
  TrueDifference,
} from "./truthOfTally.js";
