import { childrenByRate } from "../accuracy/index.js";
import { type ResampleUnits, unitsOfRows, withState } from "../inference/index.js";
import { InputError } from "../results/index.js";
import {
  type ClusterColumns,
  type Clusters,
  childrenOf,
  conditionCodes,
  type ExaminationColumns,
  examinedRows,
  hasChildren,
  sitesOf,
  type UndecidablePolicy,
  type YesNoColumn,
} from "../rows/index.js";
import { binRows } from "./ruleBins.js";
import type { Limits, Measures } from "./spaceInput.js";

/** Rows of a search. */
export interface RuleRows extends ClusterColumns {
  /** Values of each criterion, high is worse; NaN is missing. */
  readonly measures: Measures;
  /** What a missing value is known to be at least, as for `ruleSpace`. */
  readonly atLeast?: Measures;
  /** true or 1 with the condition, false or 0 without; not looked at in rows not examined. */
  readonly condition: YesNoColumn;
  readonly limits: Limits;
  /** Known weights of the rows. */
  readonly weights?: ArrayLike<number>;
  /** Estimates the weights of examined rows, anew in each resample. */
  readonly examination?: ExaminationColumns;
}

/** The grid of a search and where its distinct kinds of row lie on it. Plain arrays. */
export interface SearchGrid {
  readonly sizes: readonly number[];
  readonly rules: number;
  /** Whole counts; otherwise sums of weights. */
  readonly whole: boolean;
  /** Cell of each kind of row from which on no limit is crossed; -1 is "always referred". */
  readonly cells: Int32Array;
  /** The same with a missing value crossing nothing; null unless rows can be undecidable. */
  readonly openCells: Int32Array | null;
}

export interface SearchRows {
  readonly n: number;
  readonly criteria: readonly string[];
  readonly limits: { readonly [criterion: string]: readonly (number | null)[] };
  readonly grid: SearchGrid;
  readonly units: ResampleUnits;
  readonly typeOfUnit: Int32Array;
  readonly clusters: Clusters | null;
  /** Sites above children; the units are then sites. */
  readonly sites: Clusters | null;
  /** Children with, and without, the condition. */
  readonly classes: { readonly sensitivity: number; readonly specificity: number };
  readonly examined: number;
  readonly weighting: "none" | "known" | "examination";
}

/** Checks the rows of a search and gathers them into what is resampled. */
export function prepareSearch(
  caller: string,
  data: RuleRows,
  undecidable: UndecidablePolicy | undefined,
  mostRules = Number.POSITIVE_INFINITY,
): SearchRows {
  if (data.weights !== undefined && data.examination !== undefined) {
    throw new InputError(`${caller} requires weights or examination, got both`);
  }
  const n = data.condition.length;
  const verified =
    data.examination &&
    examinedRows(
      caller,
      data.examination,
      n,
      "restrict the rules to the region where passes were examined",
    );
  const states = conditionCodes(caller, "condition", data.condition, verified?.examined);
  const condition = states.map((state) => Number(state === withState));
  const binned = binRows(caller, { ...data, condition }, undecidable);
  if (binned.rules > mostRules) {
    throw new InputError(`${caller} requires at most ${mostRules} rules, got ${binned.rules}`);
  }
  const { cellOfRow, cells, openCells } = kindsOfRow(
    undecidable === "pass" ? binned.cellLenient : binned.cellStrict,
    undecidable === "exclude" && binned.anyMissing ? binned.cellLenient : null,
    binned.rules,
  );
  const clusters = hasChildren(data) ? childrenOf(caller, data, n) : null;
  const sites = (clusters && sitesOf(caller, data, clusters)) ?? null;
  const { units, typeOfUnit } = unitsOfRows(
    { cells: cells.length, cellOfRow, states, weights: data.weights, strata: verified?.strata },
    sites ?? clusters,
  );
  return {
    n,
    criteria: binned.criteria,
    limits: Object.fromEntries(
      binned.criteria.map((criterion, axis) => [
        criterion,
        binned.limits[axis].map((limit) => (limit === Number.POSITIVE_INFINITY ? null : limit)),
      ]),
    ),
    grid: {
      sizes: binned.sizes,
      rules: binned.rules,
      whole: data.weights === undefined && !units.partial,
      cells,
      openCells,
    },
    units,
    typeOfUnit,
    clusters,
    sites,
    classes: childrenByRate(states, clusters),
    examined: verified?.examined.reduce((sum, code) => sum + code, 0) ?? n,
    weighting:
      data.examination !== undefined
        ? "examination"
        : data.weights === undefined
          ? "none"
          : "known",
  };
}

/** Numbers the distinct pairs of cells. */
function kindsOfRow(
  first: Int32Array,
  second: Int32Array | null,
  rules: number,
): { cellOfRow: Int32Array; cells: Int32Array; openCells: Int32Array | null } {
  const numbers = new Map<number | string, number>();
  const exact = (rules + 1) ** 2 < Number.MAX_SAFE_INTEGER;
  const cells: number[] = [];
  const openCells: number[] = [];
  const cellOfRow = new Int32Array(first.length);
  for (let row = 0; row < first.length; row++) {
    const open = second === null ? 0 : second[row];
    const key =
      second === null
        ? first[row]
        : exact
          ? (first[row] + 1) * (rules + 1) + open + 1
          : `${first[row]} ${open}`;
    let kind = numbers.get(key);
    if (kind === undefined) {
      kind = numbers.size;
      numbers.set(key, kind);
      cells.push(first[row]);
      openCells.push(open);
    }
    cellOfRow[row] = kind;
  }
  return {
    cellOfRow,
    cells: Int32Array.from(cells),
    openCells: second === null ? null : Int32Array.from(openCells),
  };
}
