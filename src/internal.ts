// Built, and not part of the public face: what version 1.0 does not promise. Tests, benchmarks and the
// gallery may use it; a notebook needs none of it.

export { astigmatismPoints, differencePoints, identifierKinds } from "./privacy/index.js";
export { protocolJsonSchema } from "./protocol/index.js";
export { ruleSpaceSize, streamRules } from "./rulespace/index.js";
export {
  defaultCondition,
  defaultReferral,
  scenarioTruth,
  simulateTruth,
  simulationParameters,
  simulationScenarios,
} from "./simulation/index.js";
export { areaUnderCurveOnThreads } from "./thresholds/index.js";
