import { sha256 } from "../platform/index.js";
import { recordLength, slotsOf } from "./drawBlock.js";
import { eachBlock } from "./eachBlock.js";
import type { SimulationParameters } from "./parameters.js";
import { decidingSlot, followProgramme } from "./programme.js";
import { planOf, type SimulationOptions } from "./simulateCohort.js";
import { addToTally, emptyTally } from "./tally.js";
import { type ScenarioTruth, truthOfTally } from "./truthOfTally.js";

/**
 * What is true of a scenario, by counting over many children and keeping none of them: accuracy by
 * finding and by latent value, agreement and areas of right eyes, each with its Monte Carlo error.
 *
 * The children are those that `simulateCohort` makes from the same options; the deciding reading of
 * the first instrument is the one compared.
 *
 * Rates are proportions, 0 to 1; agreement is in dioptres.
 *
 * @throws as `simulateCohort` does
 *
 * @example
 * (await simulateTruth({ children: 200, seed: 1 })).n // => 200
 */
export async function simulateTruth(options: SimulationOptions): Promise<ScenarioTruth> {
  const { children, seed, scenario = "programme" } = options;
  const plan = planOf({ ...options, instruments: options.instruments?.slice(0, 1) });
  const { repeats, refersUndecidable } = plan.parameters.programme;
  const tally = emptyTally();
  const follow = followProgramme(plan, options);
  const length = recordLength(plan);
  const slots = slotsOf(plan);
  await eachBlock(plan, children, options, (records, from, to) => {
    for (let index = from; index < to; index++) {
      const at = (index - from) * length;
      const outcome = follow(records, at);
      addToTally(tally, records, at, at + decidingSlot(records, at, slots, repeats), outcome);
    }
  });
  return truthOfTally(tally, {
    scenario,
    fingerprint: fingerprint(plan.parameters),
    seed,
    refersUndecidable: refersUndecidable > 0,
  });
}

/** Marks a set of parameters: SHA-256 of its JSON, first 16 digits. */
export function fingerprint(parameters: SimulationParameters): string {
  return sha256(JSON.stringify(parameters)).slice(0, 16);
}
