import { type Clusters, neitherCode, rowsByCluster } from "../../rows/index.js";

/**
 * What is drawn in a bootstrap: children (or independent rows), gathered into types. Children whose
 * rows fall into the same cells are one type and are drawn together, so that a replicate costs a
 * draw a type and not a row. Plain arrays: can be sent to a worker.
 */
export interface ResampleUnits {
  readonly cells: number;
  /** Strata of verification; 1 without verification. */
  readonly strata: number;
  /** Whether some rows were not examined, so that weights are estimated in each replicate. */
  readonly partial: boolean;
  /** Units are drawn within groups of types: group g from groupStart[g] to groupStart[g + 1]. */
  readonly groupStart: Int32Array;
  /** Number of units of each type. */
  readonly counts: Int32Array;
  /** Entries of type t: from entryStart[t] to entryStart[t + 1]. */
  readonly entryStart: Int32Array;
  /** Slots that a unit adds to: state x strata x cells, in this order. */
  readonly entries: Int32Array;
  readonly weights: Float64Array | null;
}

/** States of a row in the slots. */
export const withoutState = 0;
export const withState = 1;
export const unexaminedState = neitherCode;

/** Rows by child, with weights or verification states where there are any. */
export function unitsOfRows(
  rows: {
    readonly cells: number;
    readonly cellOfRow: Int32Array;
    /** 0 without, 1 with the condition, 2 not examined. */
    readonly states: Uint8Array;
    readonly weights?: ArrayLike<number>;
    /** Strata of verification. */
    readonly strata?: { readonly count: number; readonly ofRow: Int32Array };
    /** Groups within which units are drawn; each child lies in one. */
    readonly groups?: { readonly count: number; readonly ofRow: Int32Array };
  },
  clusters: Clusters | null,
): { readonly units: ResampleUnits; readonly typeOfUnit: Int32Array } {
  const { cells, cellOfRow, states, weights } = rows;
  const strata = rows.strata?.count ?? 1;
  const slotOf = (row: number) =>
    (states[row] * strata + (rows.strata?.ofRow[row] ?? 0)) * cells + cellOfRow[row];
  const members = membersOf(clusters, states.length);
  const types = new Map<string | number, number>();
  const counts: number[] = [];
  const entryStart = [0];
  const entries: number[] = [];
  const entryWeights: number[] = [];
  const typeOfUnit = new Int32Array(members.start.length - 1);
  const groupStart = [0];
  let group = 0;
  for (const unit of inGroups(members, rows.groups)) {
    const own = members.rows.subarray(members.start[unit], members.start[unit + 1]);
    if (rows.groups !== undefined && rows.groups.ofRow[own[0]] !== group) {
      group = rows.groups.ofRow[own[0]];
      groupStart.push(counts.length);
      types.clear();
    }
    const key = keyOf(own, slotOf, weights, 3 * strata * cells);
    let type = types.get(key);
    if (type === undefined) {
      type = counts.length;
      types.set(key, type);
      counts.push(0);
      for (const row of own) {
        entries.push(slotOf(row));
        if (weights !== undefined) entryWeights.push(weights[row]);
      }
      entryStart.push(entries.length);
    }
    counts[type]++;
    typeOfUnit[unit] = type;
  }
  const units: ResampleUnits = {
    cells,
    strata,
    partial: states.includes(unexaminedState),
    groupStart: Int32Array.from([...groupStart, counts.length]),
    counts: Int32Array.from(counts),
    entryStart: Int32Array.from(entryStart),
    entries: Int32Array.from(entries),
    weights: weights === undefined ? null : Float64Array.from(entryWeights),
  };
  return { units, typeOfUnit };
}

interface Members {
  readonly start: Int32Array;
  readonly rows: Int32Array;
}

/** Unit numbers, one group after the other. */
function inGroups(
  { start, rows }: Members,
  groups: { readonly ofRow: Int32Array } | undefined,
): Int32Array {
  const units = Int32Array.from({ length: start.length - 1 }, (_, unit) => unit);
  if (groups === undefined) return units;
  const groupOf = (unit: number) => groups.ofRow[rows[start[unit]]];
  return units.sort((a, b) => groupOf(a) - groupOf(b) || a - b);
}

/** The same for children whose rows fall into the same slots, in any order. */
function keyOf(
  own: Int32Array,
  slotOf: (row: number) => number,
  weights: ArrayLike<number> | undefined,
  slots: number,
): string | number {
  if (weights === undefined && own.length === 1) return slotOf(own[0]);
  if (weights === undefined && own.length === 2 && slots < 4e7) {
    const a = slotOf(own[0]);
    const b = slotOf(own[1]);
    return (1 + Math.min(a, b)) * slots + Math.max(a, b);
  }
  return Array.from(own, (row) => `${slotOf(row)}*${weights?.[row] ?? 1}`)
    .sort()
    .join(" ");
}

/** Row numbers by child, one list after the other. */
function membersOf(clusters: Clusters | null, n: number): Members {
  if (clusters !== null) return rowsByCluster(clusters);
  return {
    start: Int32Array.from({ length: n + 1 }, (_, row) => row),
    rows: Int32Array.from({ length: n }, (_, row) => row),
  };
}
