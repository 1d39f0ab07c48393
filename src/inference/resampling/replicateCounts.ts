import type { Random } from "../random.js";
import { unitSampler } from "./drawUnits.js";
import { type ResampleUnits, unexaminedState, withoutState, withState } from "./resampleUnits.js";

/** Counts, or sums of weights, per cell of one sample. */
export interface CellCounts {
  readonly withCondition: Float64Array;
  readonly withoutCondition: Float64Array;
}

/**
 * Prepares resampling of a plan's units as counts per cell; the arrays are used again by the next
 * call. Null when a stratum of verification has none examined.
 */
export function cellSampler(units: ResampleUnits): (random: Random) => CellCounts | null {
  const draw = unitSampler(units);
  const count = cellCounter(units);
  const drawn = new Int32Array(units.counts.length);
  return (random) => {
    draw(random, drawn);
    return count(drawn);
  };
}

/**
 * Turns numbers of units per type into counts per cell; the arrays are used again by the next call.
 * Where rows were not examined, the examined of each stratum are weighted up to the stratum's size
 * (inverse probability, estimated anew in each sample); null when a stratum has none examined.
 */
export function cellCounter(units: ResampleUnits): (drawn: Int32Array) => CellCounts | null {
  // states x strata x cells, and one more for the missing second entry of units with one row
  const slots = new Float64Array(3 * units.strata * units.cells + 1);
  const add = adder(units, slots);
  const weigh = weigher(units, slots);
  return (drawn) => {
    add(drawn);
    return weigh();
  };
}

/** Counts per cell from slots. */
function weigher(
  { cells, strata, partial }: ResampleUnits,
  slots: Float64Array,
): () => CellCounts | null {
  const part = (state: number) =>
    slots.subarray(state * strata * cells, (state + 1) * strata * cells);
  const plain = {
    withCondition: part(withState),
    withoutCondition: part(withoutState),
  };
  if (!partial && strata === 1) return () => plain;
  const unexamined = part(unexaminedState);
  const weighted = {
    withCondition: new Float64Array(cells),
    withoutCondition: new Float64Array(cells),
  };
  return () => {
    weighted.withCondition.fill(0);
    weighted.withoutCondition.fill(0);
    for (let stratum = 0; stratum < strata; stratum++) {
      const from = stratum * cells;
      let examined = 0;
      let missed = 0;
      for (let at = from; at < from + cells; at++) {
        examined += plain.withCondition[at] + plain.withoutCondition[at];
        missed += unexamined[at];
      }
      if (examined === 0 && missed > 0) return null;
      const weight = examined === 0 ? 0 : (examined + missed) / examined;
      for (let cell = 0; cell < cells; cell++) {
        weighted.withCondition[cell] += weight * plain.withCondition[from + cell];
        weighted.withoutCondition[cell] += weight * plain.withoutCondition[from + cell];
      }
    }
    return weighted;
  };
}

/** Adds numbers of units per type to the slots. */
function adder(units: ResampleUnits, slots: Float64Array): (drawn: Int32Array) => void {
  const { entryStart, entries, weights, counts } = units;
  const types = counts.length;
  if (weights !== null || mostEntries(units) > 2) {
    return (drawn) => {
      slots.fill(0);
      for (let type = 0; type < types; type++) {
        for (let at = entryStart[type]; at < entryStart[type + 1]; at++) {
          slots[entries[at]] += weights === null ? drawn[type] : drawn[type] * weights[at];
        }
      }
    };
  }
  const { first, second } = pairedEntries(units, slots.length - 1);
  return (drawn) => {
    slots.fill(0);
    for (let type = 0; type < types; type++) {
      const count = drawn[type];
      slots[first[type]] += count;
      slots[second[type]] += count;
    }
  };
}

function mostEntries({ entryStart, counts }: ResampleUnits): number {
  let most = 0;
  for (let type = 0; type < counts.length; type++) {
    most = Math.max(most, entryStart[type + 1] - entryStart[type]);
  }
  return most;
}

/** The one or two slots of each type; `none` stands for a missing second. */
function pairedEntries({ entryStart, entries, counts }: ResampleUnits, none: number) {
  const types = counts.length;
  const first = new Int32Array(types);
  const second = new Int32Array(types).fill(none);
  for (let type = 0; type < types; type++) {
    first[type] = entries[entryStart[type]];
    if (entryStart[type + 1] - entryStart[type] === 2) second[type] = entries[entryStart[type] + 1];
  }
  return { first, second };
}
