import {
  cellCounter,
  type ResampleUnits,
  unexaminedState,
  unitsOfRows,
} from "../inference/index.js";
import { InputError, type VerificationColumns } from "../results/index.js";
import { type Clusters, clustersOf } from "../rows/index.js";
import { binRows } from "./ruleBins.js";
import type { Limits, Measures, UnreadablePolicy } from "./spaceInput.js";

/** Rows of a search. */
export interface RuleRows {
  /** Values of each criterion, high is worse; NaN is missing. */
  readonly measures: Measures;
  /** What a missing value is known to be at least, as for `ruleSpace`. */
  readonly atLeast?: Measures;
  /** true or 1 with the condition, false or 0 without; not looked at in rows not examined. */
  readonly condition: ArrayLike<boolean | number>;
  readonly limits: Limits;
  /** Child of each row; rows are taken as independent children without it. */
  readonly subjects?: ArrayLike<string | number>;
  /** Known weights of the rows. */
  readonly weights?: ArrayLike<number>;
  /** Estimates the weights of examined rows, anew in each resample. */
  readonly verification?: VerificationColumns;
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
  readonly examined: number;
  readonly weighting: "none" | "known" | "verification";
}

/** Checks the rows of a search and gathers them into what is resampled. */
export function prepareSearch(
  caller: string,
  data: RuleRows,
  unreadable: UnreadablePolicy | undefined,
  mostRules = Number.POSITIVE_INFINITY,
): SearchRows {
  if (data.weights !== undefined && data.verification !== undefined) {
    throw new InputError(`${caller} requires weights or verification, got both`);
  }
  const n = data.condition.length;
  const examined = examinedRows(caller, data, n);
  const condition = Array.from(data.condition, (value, row) => (examined[row] === 1 ? value : 0));
  const binned = binRows(caller, { ...data, condition }, unreadable);
  if (binned.rules > mostRules) {
    throw new InputError(`${caller} requires at most ${mostRules} rules, got ${binned.rules}`);
  }
  const { cellOfRow, cells, openCells } = kindsOfRow(
    unreadable === "pass" ? binned.cellLenient : binned.cellStrict,
    unreadable === "exclude" && binned.anyMissing ? binned.cellLenient : null,
    binned.rules,
  );
  const states = Uint8Array.from(binned.condition, (value, row) =>
    examined[row] === 1 ? value : unexaminedState,
  );
  const clusters = data.subjects === undefined ? null : clustersOf(caller, data.subjects, n);
  const strata =
    data.verification === undefined ? undefined : clustersOf(caller, data.verification.strata, n);
  const { units, typeOfUnit } = unitsOfRows(
    { cells: cells.length, cellOfRow, states, weights: data.weights, strata },
    clusters,
  );
  if (cellCounter(units)(units.counts) === null) {
    throw new InputError(
      `${caller} requires an examined row in every stratum, got a stratum of none: restrict the rules to the region where passes were examined`,
    );
  }
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
    examined: examined.reduce((sum, value) => sum + value, 0),
    weighting:
      data.verification !== undefined
        ? "verification"
        : data.weights === undefined
          ? "none"
          : "known",
  };
}

function examinedRows(caller: string, { verification }: RuleRows, n: number): Uint8Array {
  if (verification === undefined) return new Uint8Array(n).fill(1);
  const { examined } = verification;
  if (examined.length !== n) {
    throw new InputError(
      `${caller} requires examined for every child, got ${examined.length} for ${n} children`,
    );
  }
  return Uint8Array.from({ length: n }, (_, row) => {
    const value = examined[row];
    if (value === true || value === 1) return 1;
    if (value === false || value === 0) return 0;
    throw new InputError(
      `${caller} requires examined to be true, false, 1 or 0, got ${String(value)} at row ${row}`,
    );
  });
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
