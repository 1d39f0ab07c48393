import { InputError } from "../results/index.js";
import {
  conditionCodes,
  noiseOf,
  requireWeights,
  type UndecidablePolicy,
  type YesNoColumn,
} from "../rows/index.js";
import { type Limits, type Measures, requireMeasures } from "./spaceInput.js";

/** Rows reduced to the one cell of the grid from which on no limit is crossed. */
export interface BinnedRows {
  readonly n: number;
  readonly criteria: readonly string[];
  readonly limits: readonly (readonly number[])[];
  readonly sizes: readonly number[];
  readonly rules: number;
  readonly weighted: boolean;
  readonly weights: ArrayLike<number> | null;
  /** 1 with the condition, 0 without. */
  readonly condition: Uint8Array;
  /** Cell with a missing value counted as crossing every finite limit; -1 is "always referred". */
  readonly cellStrict: Int32Array;
  /** Cell with a missing value counted as crossing none; -1 is "always referred". */
  readonly cellLenient: Int32Array;
  readonly anyMissing: boolean;
  readonly totalWith: number;
  readonly totalWithout: number;
}

/** Checks the data of a rule space and finds each row's cell. */
export function binRows(
  caller: string,
  data: {
    readonly measures: Measures;
    readonly atLeast?: Measures;
    readonly condition: YesNoColumn;
    readonly limits: Limits;
    readonly weights?: ArrayLike<number>;
  },
  undecidable: UndecidablePolicy | undefined,
): BinnedRows {
  const criteria = Object.keys(data.limits);
  const n = data.condition.length;
  requireSameKeys(caller, "measures", criteria, Object.keys(data.measures));
  if (data.atLeast) requireSameKeys(caller, "atLeast", criteria, Object.keys(data.atLeast));
  const limits = criteria.map((criterion) =>
    requireLimits(caller, criterion, data.limits[criterion]),
  );
  const sizes = limits.map((list) => list.length);
  requireMeasures(caller, data, n);
  const condition = conditionCodes(caller, "condition", data.condition);
  const weights = data.weights ?? null;
  if (weights !== null) requireWeights(caller, weights, n);
  const cellStrict = new Int32Array(n);
  const cellLenient = new Int32Array(n);
  let anyMissing = false;
  criteria.forEach((criterion, axis) => {
    const values = data.measures[criterion];
    const atLeast = data.atLeast?.[criterion];
    if (binAxis(values, atLeast, limits[axis], cellStrict, cellLenient)) {
      if (undecidable === undefined) {
        throw new InputError(
          `${caller} requires undecidable: "refer", "pass" or "exclude" where values are missing, got none and a missing ${criterion}`,
        );
      }
      anyMissing = true;
    }
  });
  let totalWith = 0;
  let totalWithout = 0;
  for (let row = 0; row < n; row++) {
    const weight = weights === null ? 1 : weights[row];
    if (condition[row] === 1) totalWith += weight;
    else totalWithout += weight;
  }
  return {
    n,
    criteria,
    limits,
    sizes,
    rules: sizes.reduce((product, size) => product * size, 1),
    weighted: weights !== null,
    weights,
    condition,
    cellStrict,
    cellLenient,
    anyMissing,
    totalWith,
    totalWithout,
  };
}

/** Extends each row's cell by one axis; true when a value is missing. */
function binAxis(
  values: ArrayLike<number>,
  atLeast: ArrayLike<number> | undefined,
  limits: readonly number[],
  strict: Int32Array,
  lenient: Int32Array,
): boolean {
  const size = limits.length;
  const finite = limits[size - 1] === Number.POSITIVE_INFINITY ? size - 1 : size;
  const starts = startingPlaces(limits.slice(0, finite));
  const { low, scale, place } = starts;
  // a value short of a limit by binary noise alone is at it
  const reached = limits.slice(0, finite).map((limit) => limit - noiseOf(limit));
  const ends = Float64Array.from([...reached, Number.POSITIVE_INFINITY]);
  const last = place.length - 1;
  let missing = false;
  for (let row = 0; row < values.length; row++) {
    const known = !Number.isNaN(values[row]);
    const value = known || atLeast === undefined ? values[row] : atLeast[row];
    let bin = 0;
    if (!Number.isNaN(value)) {
      const slot = (value - low) * scale;
      bin = slot > 0 ? place[slot < last ? slot | 0 : last] : 0;
      while (value >= ends[bin] && bin < finite) bin++;
    }
    const strictBin = known ? bin : finite;
    missing ||= !known;
    strict[row] = strict[row] < 0 || strictBin === size ? -1 : strict[row] * size + strictBin;
    lenient[row] = lenient[row] < 0 || bin === size ? -1 : lenient[row] * size + bin;
  }
  return missing;
}

/**
 * Where to begin looking for a value's bin: limits are cut into equal slots, and each slot names a
 * bin that is not too high for any value in it.
 */
function startingPlaces(limits: readonly number[]): {
  readonly low: number;
  readonly scale: number;
  readonly place: Int32Array;
} {
  const low = limits[0] ?? 0;
  const high = limits[limits.length - 1] ?? 0;
  const slots = 4 * limits.length + 1;
  const scale = high > low && Number.isFinite(high - low) ? (slots - 1) / (high - low) : 0;
  // one limit back, as a value's slot may be rounded upwards
  const place = Int32Array.from({ length: slots }, (_, slot) =>
    Math.max(0, limits.filter((limit) => (limit - low) * scale < slot).length - 1),
  );
  return { low, scale, place };
}

function requireSameKeys(
  caller: string,
  name: string,
  limits: readonly string[],
  measures: readonly string[],
): void {
  if (limits.length === 0)
    throw new InputError(`${caller} requires at least one criterion, got none`);
  const same = limits.length === measures.length && limits.every((key) => measures.includes(key));
  if (!same) {
    throw new InputError(
      `${caller} requires ${name} and limits with the same keys, got ${measures.join(", ")} and ${limits.join(", ")}`,
    );
  }
}

function requireLimits(
  caller: string,
  criterion: string,
  list: ArrayLike<number | null>,
): number[] {
  const limits = Array.from(list, (limit) => (limit === null ? Number.POSITIVE_INFINITY : limit));
  const ascending = limits.every(
    (limit, at) => !Number.isNaN(limit) && (at === 0 || limit > limits[at - 1]),
  );
  if (limits.length === 0 || !ascending || limits[0] === Number.NEGATIVE_INFINITY) {
    throw new InputError(
      `${caller} requires ascending limits of ${criterion}, got ${limits.slice(0, 8).join(", ") || "none"}`,
    );
  }
  return limits;
}
