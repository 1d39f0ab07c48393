import { createRandom, type Random } from "../inference/index.js";
import { type ChildState, emptyChild } from "./childState.js";
import { drawFinding } from "./finding.js";
import { drawLatentChild } from "./latentChild.js";
import { childFields, emptySlot, readingFields, statusCodes } from "./layout.js";
import type { SimulationParameters } from "./parameters.js";
import { drawReading } from "./reading.js";

export const simulatedInstruments = ["handheld", "table"] as const;
export type SimulatedInstrument = (typeof simulatedInstruments)[number];

/** Readings that one instrument may make of a child; each has a stream of its own. */
export const mostSlots = 31;

/** What a block of children is drawn from; plain data, so that it can travel to a worker. */
export interface BlockPlan {
  readonly seed: number;
  readonly instruments: readonly SimulatedInstrument[];
  readonly parameters: SimulationParameters;
}

/** Readings of both eyes that one instrument may make of a child. */
export function slotsOf({ parameters: { programme } }: BlockPlan): number {
  return programme.repeats + programme.attempts - 1;
}

/** Length of a child's record. */
export function recordLength(plan: BlockPlan): number {
  return childFields.readings + plan.instruments.length * slotsOf(plan) * 2 * readingFields;
}

/**
 * Draws children `from` to `to` (not included) as one flat run of records.
 *
 * Each child owns stream 64 c of the seed, and each of its readings a stream after it, so that
 * neither another child, nor another instrument, nor one more repeat moves a number.
 */
export function drawBlock(plan: BlockPlan, from: number, to: number): Float64Array {
  const length = recordLength(plan);
  const records = new Float64Array((to - from) * length);
  const random = createRandom(plan.seed);
  const child = emptyChild();
  const { parameters } = plan;
  const shifts = siteShifts(plan);
  for (let index = from; index < to; index++) {
    const at = (index - from) * length;
    random.restart(plan.seed, index * 64);
    drawLatentChild(child, random, parameters);
    child.siteShift = shifts[child.site];
    drawFinding(records, at, child, random, parameters);
    records[at + childFields.ageMonths] = child.ageMonths;
    records[at + childFields.site] = child.site;
    records[at + childFields.day] = child.day;
    records[at + childFields.strabismus] = child.strabismus ? 1 : 0;
    records[at + childFields.opacity] = child.opacity ? 1 : 0;
    const latent = at + childFields.latent;
    records[latent] = child.right.M;
    records[latent + 1] = child.right.J0;
    records[latent + 2] = child.right.J45;
    records[latent + 3] = child.left.M;
    records[latent + 4] = child.left.J0;
    records[latent + 5] = child.left.J45;
    records[at + childFields.followDraw] = random.uniform();
    records[at + childFields.sampleDraw] = random.uniform();
    records[at + childFields.selfDraw] = random.uniform();
    records[at + childFields.departureDraw] = random.uniform();
    drawReadings(plan, child, index, random, records, at + childFields.readings);
  }
  return records;
}

/** The shift of each site, from a stream of its own below those of children. */
function siteShifts({ seed, parameters: { population } }: BlockPlan): Float64Array {
  const random = createRandom(seed);
  return Float64Array.from({ length: population.sites }, (_, site) => {
    random.restart(seed, -1 - site);
    return population.siteSd * random.normal();
  });
}

function drawReadings(
  plan: BlockPlan,
  child: ChildState,
  index: number,
  random: Random,
  out: Float64Array,
  start: number,
): void {
  const { parameters, instruments, seed } = plan;
  const { repeats } = parameters.programme;
  const slots = slotsOf(plan);
  let at = start;
  for (const instrument of instruments) {
    const stream = index * 64 + 1 + mostSlots * simulatedInstruments.indexOf(instrument);
    let complete = false;
    for (let slot = 0; slot < slots; slot++) {
      if (slot >= repeats && complete) {
        out[at] = emptySlot;
        out[at + readingFields] = emptySlot;
      } else {
        random.restart(seed, stream + slot);
        drawReading(out, at, child, random, parameters[instrument], parameters.accommodation);
        const measured =
          out[at] === statusCodes.measured && out[at + readingFields] === statusCodes.measured;
        if (slot === 0 || slot >= repeats) complete = measured;
      }
      at += 2 * readingFields;
    }
  }
}
