import { shuffleInPlace } from "simple-statistics";
import { createRandom } from "../inference/index.js";
import {
  caution,
  type ForAudience,
  InputError,
  type Undefined,
  undefinedBecause,
} from "../results/index.js";
import {
  type AgeBand,
  bandOfRows,
  bandText,
  clustersOf,
  conditionCodes,
  requireNoSites,
  requireNumbers,
  requireWhole,
  rowsOfGroups,
  takeColumns,
  type YesNoColumn,
} from "../rows/index.js";
import { chooseThreshold, type ThresholdChoice, type ThresholdOptions } from "./chooseThreshold.js";
import { commonAgainstOwn } from "./commonAgainstOwn.js";
import { scoreOf } from "./criterion.js";

/** One chosen cut-off an age band, and the test of one for all. */
export interface ThresholdsByAgeBand {
  readonly kind: "thresholds-by-age-band";
  readonly n: number;
  /** Rows whose age is in no band: in no choice. */
  readonly outside: number;
  readonly bands: readonly {
    readonly band: AgeBand;
    readonly label: string;
    readonly choice: ThresholdChoice;
  }[];
  /** One cut-off for all rows within the bands. */
  readonly common: ThresholdChoice;
  /** Whether one cut-off serves all bands. */
  readonly oneForAll: {
    /** Mean over rows of the criterion at their band's own cut-off minus at the `common` one. */
    readonly gain: number | Undefined;
    /** Mean gain when bands are dealt out at random: what own cut-offs seem to gain by luck. */
    readonly gainByChance: number | Undefined;
    /** Share of random deals with at least the observed gain, the observed one counted in. */
    readonly p: number;
    readonly permutations: number;
    readonly method: string;
  };
  readonly caution: string;
}

/**
 * A cut-off for each age band, and a test whether one serves all.
 *
 * The test deals the children's bands out at random, among children with the same classes (rows
 * with, without, or both), and compares the gain of own cut-offs over a common one. Its null
 * hypothesis: within each class, values are distributed alike in all bands. Own cut-offs always
 * seem to gain; the gain by chance is printed beside.
 *
 * Cut-offs are in the unit of the values; rates are proportions, 0 to 1.
 *
 * @throws when a band lacks a class or columns are faulty
 *
 * @example
 * (await thresholdsByAgeBand({ values: [1, 2, 3, 4, 1, 2, 3, 4], condition: [0, 1, 1, 1, 0, 0, 0, 1], ageMonths: [40, 40, 40, 40, 80, 80, 80, 80] }, { positiveWhen: "high", criterion: "youden", seed: 1, replicates: 50, folds: 2, permutations: 99, bands: [{ fromMonths: 36, toMonths: 72 }, { fromMonths: 72, toMonths: 96 }] })).bands[1].choice.cutOff // => 4
 */
export async function thresholdsByAgeBand(
  data: {
    readonly values: ArrayLike<number>;
    readonly condition: YesNoColumn;
    readonly ageMonths: ArrayLike<number>;
    readonly subjects?: ArrayLike<string | number>;
  } & ForAudience,
  options: ThresholdOptions & {
    readonly bands: readonly AgeBand[];
    /** 999 by default. */
    readonly permutations?: number;
  },
): Promise<ThresholdsByAgeBand> {
  const caller = "thresholdsByAgeBand";
  const { bands, permutations = 999, seed } = options;
  requireNoSites(caller, data, "choose in each band with chooseThreshold, which takes clusters");
  const n = data.condition.length;
  requireWhole(caller, "permutations", permutations, 19);
  const bandOfRow = bandOfRows(caller, data.ageMonths, n, bands);
  const { rows, outside } = rowsOfGroups(bandOfRow, bands.length);
  const { values, condition, subjects } = data;
  const part = (taken: readonly number[]) => takeColumns({ values, condition, subjects }, taken);
  const codes = conditionCodes(caller, "condition", data.condition);
  requireNumbers(caller, "values", data.values, n);
  const clusters = data.subjects === undefined ? null : clustersOf(caller, data.subjects, n);
  rows.forEach((taken, at) => {
    const cases = taken.filter((row) => codes[row] === 1).length;
    if (cases === 0 || cases === taken.length) {
      throw new InputError(
        `${caller} requires both classes in each band, got ${cases} with of ${taken.length} rows at ${bandText(bands[at])}`,
      );
    }
  });
  const within = rows.flat().sort((a, b) => a - b);
  const common = await chooseThreshold(part(within), options);
  const chosen: ThresholdChoice[] = [];
  for (const taken of rows) chosen.push(await chooseThreshold(part(taken), options));
  const gainOf = commonAgainstOwn(caller, data.values, codes, within, {
    positiveWhen: options.positiveWhen,
    cutOffs: options.cutOffs,
    score: scoreOf(caller, options.criterion),
    bands: bands.length,
  });
  const observed = gainOf(bandOfRow);
  const random = createRandom(seed);
  let atLeast = 1;
  let sum = 0;
  for (let permutation = 0; permutation < permutations; permutation++) {
    random.restart(seed, 3_000_000_000 + permutation);
    const gain = gainOf(
      dealBands(bandOfRow, codes, clusters?.ofRow ?? null, within, random.uniform),
    );
    sum += gain;
    if (gain >= observed - 1e-12) atLeast++;
  }
  return {
    kind: "thresholds-by-age-band",
    n,
    outside,
    bands: bands.map((band, at) => ({ band, label: bandText(band), choice: chosen[at] })),
    common,
    oneForAll: {
      gain: finite(observed),
      gainByChance: finite(sum / permutations),
      p: atLeast / (permutations + 1),
      permutations,
      method: "bands permuted among children of the same classes",
    },
    caution,
  };
}

const finite = (gain: number): number | Undefined =>
  Number.isFinite(gain)
    ? gain
    : undefinedBecause("the common cut-off breaks the constraint within a band");

/** Bands dealt out anew among children whose rows have the same classes. */
function dealBands(
  bandOfRow: Int32Array,
  codes: Uint8Array,
  childOfRow: Int32Array | null,
  within: readonly number[],
  uniform: () => number,
): Int32Array {
  const childOf = (row: number) => childOfRow?.[row] ?? row;
  const classes = new Map<number, number>();
  const bandOf = new Map<number, number>();
  for (const row of within) {
    const child = childOf(row);
    classes.set(child, (classes.get(child) ?? 0) | (codes[row] === 1 ? 2 : 1));
    bandOf.set(child, bandOfRow[row]);
  }
  for (const kind of [1, 2, 3]) {
    const children = [...classes].filter(([, seen]) => seen === kind).map(([child]) => child);
    const bands = children.map((child) => bandOf.get(child)!);
    shuffleInPlace(bands, uniform);
    children.forEach((child, at) => {
      bandOf.set(child, bands[at]);
    });
  }
  const dealt = bandOfRow.slice();
  for (const row of within) dealt[row] = bandOf.get(childOf(row))!;
  return dealt;
}
