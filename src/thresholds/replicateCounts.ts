import { type ResampleUnits, unexaminedState, withoutState, withState } from "./resampleUnits.js";

/** Counts, or sums of weights, per cell of one sample. */
export interface CellCounts {
  readonly withCondition: Float64Array;
  readonly withoutCondition: Float64Array;
}

/**
 * Turns numbers of units per type into counts per cell; the arrays are used again by the next call.
 * Where rows were not examined, the examined of each stratum are weighted up to the stratum's size
 * (inverse probability, estimated anew in each sample); null when a stratum has none examined.
 */
export function cellCounter(units: ResampleUnits): (drawn: Int32Array) => CellCounts | null {
  const { cells, strata } = units;
  // one slot more, for the missing second entry of children with one row
  const slots = new Float64Array(3 * strata * cells + 1);
  const part = (state: number) =>
    slots.subarray(state * strata * cells, (state + 1) * strata * cells);
  const plain = {
    withCondition: part(withState),
    withoutCondition: part(withoutState),
  };
  const add = adder(units, slots);
  if (!units.partial && strata === 1) {
    return (drawn) => {
      add(drawn);
      return plain;
    };
  }
  const unexamined = part(unexaminedState);
  const weighted = {
    withCondition: new Float64Array(cells),
    withoutCondition: new Float64Array(cells),
  };
  return (drawn) => {
    add(drawn);
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
function adder(
  { entryStart, entries, weights, counts }: ResampleUnits,
  slots: Float64Array,
): (drawn: Int32Array) => void {
  const types = counts.length;
  let most = 0;
  for (let type = 0; type < types; type++) {
    most = Math.max(most, entryStart[type + 1] - entryStart[type]);
  }
  if (weights !== null || most > 2) {
    return (drawn) => {
      slots.fill(0);
      for (let type = 0; type < types; type++) {
        for (let at = entryStart[type]; at < entryStart[type + 1]; at++) {
          slots[entries[at]] += weights === null ? drawn[type] : drawn[type] * weights[at];
        }
      }
    };
  }
  const first = new Int32Array(types);
  const second = new Int32Array(types).fill(slots.length - 1);
  for (let type = 0; type < types; type++) {
    first[type] = entries[entryStart[type]];
    if (entryStart[type + 1] - entryStart[type] === 2) second[type] = entries[entryStart[type] + 1];
  }
  return (drawn) => {
    slots.fill(0);
    for (let type = 0; type < types; type++) {
      const count = drawn[type];
      slots[first[type]] += count;
      slots[second[type]] += count;
    }
  };
}
