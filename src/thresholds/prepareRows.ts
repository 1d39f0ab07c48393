import { childrenByRate } from "../accuracy/index.js";
import {
  type CellCounts,
  cellCounter,
  type ResampleUnits,
  unexaminedState,
  unitsOfRows,
  withState,
} from "../inference/index.js";
import { InputError } from "../results/index.js";
import {
  type ClusterColumns,
  type Clusters,
  childrenOf,
  clustersOf,
  conditionCodes,
  type ExaminationColumns,
  examinedRows,
  hasChildren,
  type PositiveWhen,
  requireDirection,
  requireNumbers,
  requireSameLength,
  requireWeights,
  sitesOf,
  sum,
  type YesNoColumn,
} from "../rows/index.js";
import { cellOfRows, countByValue, type ValueCounts } from "./countByValue.js";

/** Columns of a resampled analysis. */
export interface ThresholdRows extends ClusterColumns {
  readonly values: ArrayLike<number>;
  /** true or 1 with the condition, false or 0 without; not looked at in rows not examined. */
  readonly condition: YesNoColumn;
  /** Children are drawn within each stratum, as many as it has. */
  readonly strata?: ArrayLike<string | number | boolean>;
  /** Known weights of the rows. */
  readonly weights?: ArrayLike<number>;
  /** Estimates the weights of examined rows, anew in each resample. */
  readonly examination?: ExaminationColumns;
}

export interface PreparedRows {
  readonly n: number;
  readonly positiveWhen: PositiveWhen;
  /** Distinct values of examined rows, the most suspicious first. */
  readonly values: Float64Array;
  readonly units: ResampleUnits;
  readonly typeOfUnit: Int32Array;
  readonly clusters: Clusters | null;
  /** Sites above children; the units are then sites, not children. */
  readonly sites: Clusters | null;
  /** What each site adds to both classes; null without sites. */
  readonly siteSizes: CellCounts | null;
  /** Children with, and without, the condition. */
  readonly classes: { readonly sensitivity: number; readonly specificity: number };
  /** Counts, or sums of weights, of the sample itself. */
  readonly counts: CellCounts;
  readonly totalWith: number;
  readonly totalWithout: number;
  readonly weighting: "none" | "known" | "examination";
}

/** Checks the columns and gathers rows into what is resampled. */
export function prepareRows(
  caller: string,
  data: ThresholdRows,
  positiveWhen: PositiveWhen,
): PreparedRows {
  requireDirection(caller, positiveWhen);
  const n = requireSameLength(caller, { condition: data.condition, values: data.values });
  if (data.weights !== undefined && data.examination !== undefined) {
    throw new InputError(`${caller} requires weights or examination, got both`);
  }
  const verified = data.examination && examinedRows(caller, data.examination, n);
  const states = conditionCodes(caller, "condition", data.condition, verified?.examined);
  requireNumbers(caller, "values", data.values, n, { only: verified?.examined });
  if (data.weights !== undefined) requireWeights(caller, data.weights, n);
  const { distinct, cellOfRow } = cellsOf(caller, data.values, states, positiveWhen);
  const clusters = hasChildren(data) ? childrenOf(caller, data, n) : null;
  const sites = (clusters && sitesOf(caller, data, clusters)) ?? null;
  const cells = distinct.values.length;
  const rows = {
    cells,
    cellOfRow,
    states,
    weights: data.weights,
    strata: verified?.strata,
    groups: groupsOf(caller, data.strata, n, sites ?? clusters),
  };
  const { units, typeOfUnit } = unitsOfRows(rows, sites ?? clusters);
  // not null: every stratum has an examined row
  const counts = cellCounter(units)(units.counts)!;
  const [totalWith, totalWithout] = [sum(counts.withCondition), sum(counts.withoutCondition)];
  requireClasses(caller, totalWith, totalWithout);
  return {
    n,
    positiveWhen,
    values: distinct.values,
    units,
    typeOfUnit,
    clusters,
    sites,
    siteSizes:
      sites &&
      sizesBySite(sites, states, (row) => verified?.weights[row] ?? data.weights?.[row] ?? 1),
    classes: childrenByRate(states, clusters),
    counts,
    totalWith,
    totalWithout,
    weighting:
      data.examination !== undefined
        ? "examination"
        : data.weights === undefined
          ? "none"
          : "known",
  };
}

/** Distinct values of examined rows, and the place of each of these rows among them. */
function cellsOf(
  caller: string,
  values: ArrayLike<number>,
  states: Uint8Array,
  positiveWhen: PositiveWhen,
): { readonly distinct: ValueCounts; readonly cellOfRow: Int32Array } {
  if (!states.includes(unexaminedState)) {
    const distinct = countByValue(caller, { values, condition: states }, positiveWhen);
    return { distinct, cellOfRow: cellOfRows(distinct, values) };
  }
  const known: number[] = [];
  for (let row = 0; row < states.length; row++)
    if (states[row] !== unexaminedState) known.push(row);
  const examinedValues = Float64Array.from(known, (row) => values[row]);
  const condition = Uint8Array.from(known, (row) => states[row]);
  const distinct = countByValue(caller, { values: examinedValues, condition }, positiveWhen);
  const cellOfRow = new Int32Array(states.length);
  cellOfRows(distinct, examinedValues).forEach((cell, at) => {
    cellOfRow[known[at]] = cell;
  });
  return { distinct, cellOfRow };
}

/** The prepared rows as counts per value. */
export function valueCountsOf(rows: PreparedRows): ValueCounts {
  return {
    n: rows.n,
    positiveWhen: rows.positiveWhen,
    weighted: rows.weighting !== "none",
    values: rows.values,
    ...rows.counts,
    totalWith: rows.totalWith,
    totalWithout: rows.totalWithout,
  };
}

function groupsOf(
  caller: string,
  strata: ThresholdRows["strata"],
  n: number,
  clusters: Clusters | null,
): { readonly count: number; readonly ofRow: Int32Array } | undefined {
  if (strata === undefined) return undefined;
  const groups = clustersOf(caller, strata, n, "strata");
  const groupOfChild = new Map<number, number>();
  clusters?.ofRow.forEach((child, row) => {
    const known = groupOfChild.get(child) ?? groups.ofRow[row];
    if (known !== groups.ofRow[row]) {
      throw new InputError(
        `${caller} requires each child (site) in one stratum, got one in several`,
      );
    }
    groupOfChild.set(child, known);
  });
  return groups;
}

/** What each site adds to the children with, and without, the condition, in weights of all rows. */
function sizesBySite(
  sites: Clusters,
  states: Uint8Array,
  weightOf: (row: number) => number,
): CellCounts {
  const sizes = {
    withCondition: new Float64Array(sites.count),
    withoutCondition: new Float64Array(sites.count),
  };
  states.forEach((state, row) => {
    if (state === unexaminedState) return;
    sizes[state === withState ? "withCondition" : "withoutCondition"][sites.ofRow[row]] +=
      weightOf(row);
  });
  return sizes;
}

/** What a bootstrap draws, in words. */
export const drawnUnits = ({
  clusters,
  sites,
}: Pick<PreparedRows, "clusters" | "sites">): string =>
  sites !== null ? "sites" : clusters === null ? "rows" : "children";

function requireClasses(caller: string, totalWith: number, totalWithout: number): void {
  if (totalWith > 0 && totalWithout > 0) return;
  throw new InputError(
    `${caller} requires rows with and rows without the condition, got ${totalWith} with and ${totalWithout} without`,
  );
}
