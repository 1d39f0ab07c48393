import type { ScenarioTruth } from "./truthOfTally.js";
import { clinic } from "./truths/clinic.js";
import { complete } from "./truths/complete.js";
import { diseaseFollowUp } from "./truths/diseaseFollowUp.js";
import { hardToRead } from "./truths/hardToRead.js";
import { independentEyes } from "./truths/independentEyes.js";
import { programme } from "./truths/programme.js";
import { randomPasses } from "./truths/randomPasses.js";
import { selfPresentingPasses } from "./truths/selfPresentingPasses.js";

/** Truths of the named scenarios, each a committed result of tests/coverage/scenario-truths.mjs. */
export const scenarioTruths: readonly ScenarioTruth[] = [
  programme,
  randomPasses,
  selfPresentingPasses,
  diseaseFollowUp,
  complete,
  hardToRead,
  clinic,
  independentEyes,
];
