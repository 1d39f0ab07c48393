import {
  type LimitsOfAgreement,
  limitsOfAgreement,
  type Repeatability,
  repeatability,
  withinDifference,
} from "../../agreement/index.js";
import { requireLevel } from "../../inference/index.js";
import {
  type Estimate,
  type ForAudience,
  InputError,
  jointAudience,
  type Undefined,
} from "../../results/index.js";
import {
  type ClusterColumns,
  directionOf,
  type Labels,
  type Limit,
  meets,
  requireNumbers,
  takeClusters,
  takeRows,
} from "../../rows/index.js";
import type { AreaEstimate } from "../areas/areaEstimate.js";
import { areaUnderCurve } from "../areas/areaUnderCurve.js";
import { compareAreas } from "../areas/compareAreas.js";

/** Several instruments on the same eyes, one row an eye. */
export interface InstrumentColumns extends ClusterColumns {
  /** The value of each instrument in each row, NaN where it gave none. */
  readonly instruments: { readonly [name: string]: ArrayLike<number> };
  /** What all are compared with; NaN where it is not known. */
  readonly reference: ArrayLike<number>;
  /** Repeated values of an instrument, one row a measurement, with the eye of each. */
  readonly repeats?: {
    readonly [name: string]: ClusterColumns & {
      readonly values: ArrayLike<number>;
      readonly units: Labels;
    };
  };
}

export interface CompareInstrumentsOptions {
  /** The level at which all intervals of a family hold together; 0.95 by default. */
  readonly level?: number;
  /** The condition by the reference, such as { relation: "<=", limit: -0.5 }: areas are of it. */
  readonly condition?: Limit;
  /** The acceptable difference from the reference, stated before seeing the data (0.5). */
  readonly acceptable?: number;
}

/** One instrument against the reference. */
export interface ComparedInstrument {
  readonly name: string;
  /** Rows without a value of this instrument, before the rows that all have were taken. */
  readonly missing: number;
  /** Instrument minus reference. */
  readonly agreement: LimitsOfAgreement;
  /** Share of rows within the acceptable difference. */
  readonly within: Estimate | Undefined;
  /** Null where no condition is asked for. */
  readonly area: Estimate | Undefined | null;
  /** Null where no repeats are given. */
  readonly repeatability: Repeatability | null;
}

/** Two instruments on the same eyes. */
export interface InstrumentPair {
  readonly first: string;
  readonly second: string;
  /** First minus second. */
  readonly agreement: LimitsOfAgreement;
  /** Mean distance of the first from the reference minus that of the second: below 0, the first is nearer. */
  readonly nearer: Estimate | Undefined;
  /** Area of the first minus area of the second; null where no condition is asked for. */
  readonly area: Estimate | Undefined | null;
}

/** Two and more instruments on the same eyes, against a reference, each other and themselves. */
export interface InstrumentComparison extends ForAudience {
  readonly kind: "instrument-comparison";
  /** Rows with a value of every instrument and of the reference. */
  readonly n: number;
  readonly subjects: number;
  /** Rows given, and those of them without a reference. */
  readonly rows: number;
  readonly withoutReference: number;
  /** The level at which the intervals of one kind hold together. */
  readonly level: number;
  /** Level of each single interval (Bonferroni), by the number of comparisons it is one of. */
  readonly levels: {
    /** Bias, each limit: against the reference and between instruments. */
    readonly agreement: number;
    /** Shares, areas and repeatability of instruments. */
    readonly instruments: number;
    /** Differences between two instruments in distance and in area. */
    readonly pairs: number;
  };
  readonly method: "bonferroni";
  readonly acceptable: number;
  readonly condition: Limit | null;
  readonly instruments: readonly ComparedInstrument[];
  readonly pairs: readonly InstrumentPair[];
}

/**
 * Compares two and more instruments on the same eyes: bias and limits of each against the reference and
 * of each pair, how often each is within the acceptable difference, which of two is nearer to the
 * reference (mean of |difference|, paired), the area of each for a condition of the reference, and the
 * repeatability of each. Only rows in which all have a value are compared, so that no instrument is
 * judged by other eyes; how many each one lacks is counted.
 *
 * Intervals are simultaneous by Bonferroni (1936): with m comparisons in a family each interval has
 * the level 1 - (1 - level) / m, so that all of them hold together at least at `level`, however they hang
 * together. A family is one kind of number: the biases of all comparisons, their lower limits, the areas.
 * Two eyes of a child need `subjects`. Suspicious values lie on the side that the condition names.
 *
 * Values are in one unit, dioptres as a rule, and so are bias, limits and distances.
 *
 * @throws InputError for fewer than two instruments, columns that differ in length, or fewer than 3 rows that all have
 *
 * @example
 * compareInstruments({ instruments: { a: [1, 2, 3, 4, 6], b: [1, 2, 4, 4, 5] }, reference: [1, 2, 3, 4, 5] }).instruments[0].agreement.bias.value // => 0.2
 */
export function compareInstruments(
  data: InstrumentColumns,
  options: CompareInstrumentsOptions = {},
): InstrumentComparison {
  const caller = "compareInstruments";
  const { acceptable = 0.5, condition = null } = options;
  const level = requireLevel(caller, options.level ?? 0.95);
  const names = Object.keys(data.instruments ?? {});
  if (names.length < 2) {
    throw new InputError(
      `${caller} requires at least 2 instruments, got ${names.length}; for one, use limitsOfAgreement`,
    );
  }
  const strange = Object.keys(data.repeats ?? {}).find((name) => !names.includes(name));
  if (strange !== undefined) {
    throw new InputError(
      `${caller} requires repeats of its instruments, got "${strange}"; there are ${names.join(", ")}`,
    );
  }
  const rows = data.reference?.length ?? 0;
  for (const [name, values] of Object.entries({ ...data.instruments, reference: data.reference })) {
    requireNumbers(caller, name, values, rows, { missing: "NaN" });
  }
  const isKnown = (values: ArrayLike<number>, row: number) => Number.isFinite(values[row]);
  const all = Array.from({ length: rows }, (_, row) => row);
  const complete = all.filter(
    (row) =>
      isKnown(data.reference, row) && names.every((name) => isKnown(data.instruments[name], row)),
  );
  if (complete.length < 3) {
    throw new InputError(
      `${caller} requires at least 3 rows with a value of every instrument and of the reference, got ${complete.length} of ${rows}; leave out the instrument that lacks most`,
    );
  }
  const whose = takeClusters(data, complete);
  const reference = takeRows(data.reference, complete);
  const valuesOf = new Map(
    names.map((name) => [name, takeRows(data.instruments[name], complete)] as const),
  );
  const couples = names.flatMap((first, at) =>
    names.slice(at + 1).map((second) => ({ first, second })),
  );
  const each = (comparisons: number) => 1 - (1 - level) / comparisons;
  const levels = {
    agreement: each(names.length + couples.length),
    instruments: each(names.length),
    pairs: each(couples.length),
  };
  const agree = (test: ArrayLike<number>, other: ArrayLike<number>, at: number) =>
    limitsOfAgreement(
      { test, reference: other, ...whose },
      { level: at, conditional: "skip", normality: "skip" },
    );
  const isCondition =
    condition === null ? null : Array.from(reference, (value) => meets(value, condition));
  const positiveWhen = condition === null ? "low" : directionOf(condition);
  const distance = (values: ArrayLike<number>) =>
    Array.from(values, (value, row) => Math.abs(value - reference[row]));

  const instruments = names.map((name): ComparedInstrument => {
    const values = valuesOf.get(name)!;
    const repeats = data.repeats?.[name];
    return {
      name,
      missing: all.filter((row) => !isKnown(data.instruments[name], row)).length,
      agreement: agree(values, reference, levels.agreement),
      within: withinDifference(
        { test: values, reference, ...whose },
        { acceptable: [acceptable], level: levels.instruments },
      ).shares[0].within,
      area:
        isCondition === null
          ? null
          : plain(
              areaUnderCurve(
                { values, condition: isCondition, ...whose },
                { positiveWhen, level: levels.instruments },
              ),
            ),
      repeatability:
        repeats === undefined ? null : repeatability(repeats, { level: levels.instruments }),
    };
  });
  const pairs = couples.map(({ first, second }): InstrumentPair => {
    const [one, two] = [valuesOf.get(first)!, valuesOf.get(second)!];
    return {
      first,
      second,
      agreement: agree(one, two, levels.agreement),
      nearer: agree(distance(one), distance(two), levels.pairs).bias,
      area: isCondition === null ? null : areaDifference(one, two, isCondition),
    };
  });
  return {
    kind: "instrument-comparison",
    ...jointAudience(data),
    n: complete.length,
    subjects: instruments[0].agreement.subjects,
    rows,
    withoutReference: all.filter((row) => !isKnown(data.reference, row)).length,
    level,
    levels,
    method: "bonferroni",
    acceptable,
    condition,
    instruments,
    pairs,
  };

  function areaDifference(
    first: ArrayLike<number>,
    second: ArrayLike<number>,
    has: readonly boolean[],
  ): Estimate | Undefined {
    const yes = has.filter((one) => one).length;
    if (yes < 2 || has.length - yes < 2) {
      return { kind: "undefined", reason: "fewer than two rows have, or lack, the condition" };
    }
    return compareAreas(
      { first, second, condition: has, ...whose },
      { positiveWhen, level: levels.pairs },
    ).difference;
  }
}

/** An area without what only its own room needs. */
function plain(area: AreaEstimate | Estimate | Undefined): Estimate | Undefined {
  return area as Estimate | Undefined;
}
