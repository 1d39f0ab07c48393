// Written by tests/coverage/scenario-truths.mjs; not by hand.
import type { ScenarioTruth } from "./truthOfTally.js";

export const scenarioTruths: readonly ScenarioTruth[] = [];
