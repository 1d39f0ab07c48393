import { moverDifference, standardisedEstimate } from "../inference/index.js";
import {
  type Estimate,
  type ForAudience,
  InputError,
  jointAudience,
  type Undefined,
  undefinedBecause,
} from "../results/index.js";
import type { ProgrammeDescription, ProgrammeGroup } from "./describeProgramme.js";
import type { ProgrammeMeasure, ProgrammeMeasureId } from "./programmeMeasures.js";

/** One figure of two programmes. */
export interface ComparedMeasure {
  readonly id: ProgrammeMeasureId;
  readonly words: string;
  readonly unit: ProgrammeMeasure["unit"];
  readonly first: Estimate | Undefined;
  readonly second: Estimate | Undefined;
  /** Second minus first. */
  readonly difference: Estimate | Undefined;
  /** The same with the age bands of both carried to one population. */
  readonly standardised: Estimate | Undefined;
}

/** Two programmes, or two years of one, side by side. */
export interface ProgrammeComparison extends ForAudience {
  readonly kind: "programme-comparison";
  readonly names: readonly [first: string, second: string];
  readonly level: number;
  /** The grouping used for standardisation, or null. */
  readonly standardisedBy: string | null;
  readonly programmes: readonly [ProgrammeDescription, ProgrammeDescription];
  readonly measures: readonly ComparedMeasure[];
  readonly notes: readonly string[];
}

/**
 * Two years or programmes of different children side by side: every figure of both, the difference
 * (second minus first) with its interval, and the difference with ages made alike.
 *
 * Intervals by square-and-add of those of both (for shares Newcombe 1998, method 10). Standardised: the
 * age bands of both, each with the size of both together (of the figure's own whole, else the screened)
 * as its weight. Undefined where a figure of either is, or where the two have no age bands in common.
 * Children of both are taken to be different ones; a child in both makes the interval too wide.
 *
 * @param first, second from `describeProgramme`, of one level and one way to count the unable
 * @param options `names` of the two; `by`: the grouping to standardise by, "age" by default
 * @throws InputError when levels, or ways to count the unable, differ
 *
 * @example
 * const year = (referred) => describeProgramme({ decision: Array.from({ length: 100 }, (_, child) => (child < referred ? "refer" : "pass")), condition: Array(100).fill(null), reason: Array(100).fill("not-examined") });
 * compareProgrammes(year(10), year(15), { names: ["2024", "2025"] }).measures.find(({ id }) => id === "referred").difference.value // => 0.05
 */
export function compareProgrammes(
  first: ProgrammeDescription,
  second: ProgrammeDescription,
  options: { readonly names?: readonly [string, string]; readonly by?: string } = {},
): ProgrammeComparison {
  const caller = "compareProgrammes";
  const { names = ["first", "second"], by = "age" } = options;
  for (const key of ["level", "undecidable", "withinDays"] as const) {
    if (first[key] !== second[key]) {
      throw new InputError(
        `${caller} requires two programmes of one ${key}, got ${first[key]} and ${second[key]}; describe both with the same ${key}`,
      );
    }
  }
  const { level } = first;
  const bands = commonBands(first, second, by);
  const [ids, others] = [first, second].map(({ overall }) =>
    overall.measures.map(({ id }) => id).join(", "),
  );
  if (ids !== others) {
    throw new InputError(
      `compareProgrammes requires descriptions with the same measures, got ${ids} and ${others}; describe both with this version`,
    );
  }
  return {
    kind: "programme-comparison",
    ...jointAudience(first, second),
    names: [names[0], names[1]],
    level,
    standardisedBy: bands === null ? null : by,
    programmes: [first, second],
    measures: first.overall.measures.map(({ id, words, unit, estimate }, at) => {
      const other = second.overall.measures[at].estimate;
      return {
        id,
        words,
        unit,
        first: estimate,
        second: other,
        difference: difference(estimate, other, level),
        standardised: standardised(bands, at, level, by),
      };
    }),
    notes: [
      `Differences are ${names[1]} minus ${names[0]}; the children are taken to be different ones.`,
      ...(bands === null
        ? [`Not standardised: the two have no grouping "${by}" with the same groups.`]
        : [
            `Standardised for ${by}: the groups of both, weighted with the sizes of both together.`,
          ]),
    ],
  };
}

type Band = readonly [first: ProgrammeGroup, second: ProgrammeGroup];

/** The groups of both in pairs; null where they are not the same groups. */
function commonBands(
  first: ProgrammeDescription,
  second: ProgrammeDescription,
  by: string,
): readonly Band[] | null {
  const [ones, others] = [first, second].map(
    ({ groupings }) => groupings.find((grouping) => grouping.by === by)?.groups,
  );
  if (ones === undefined || others === undefined || ones.length !== others.length) return null;
  const same = ones.every(({ group }, at) => others[at].group === group);
  return same ? ones.map((one, at): Band => [one, others[at]]) : null;
}

function difference(
  first: Estimate | Undefined,
  second: Estimate | Undefined,
  level: number,
): Estimate | Undefined {
  if (first.kind === "undefined") return undefinedBecause(first.reason);
  if (second.kind === "undefined") return undefinedBecause(second.reason);
  const { value, low, high } = moverDifference(second, first);
  return { kind: "estimate", value, low, high, level, method: "mover" };
}

function standardised(
  bands: readonly Band[] | null,
  at: number,
  level: number,
  by: string,
): Estimate | Undefined {
  if (bands === null) return undefinedBecause(`no common groups of ${by}`);
  const { unit } = bands[0][0].measures[at];
  if (unit === "number" || unit === "days") {
    return undefinedBecause("not a share of children: it has no weighted mean over groups");
  }
  const whole = ({ measures, counts }: ProgrammeGroup) => measures[at].of ?? counts.screened;
  const of = (place: 0 | 1) =>
    standardisedEstimate(
      bands.map((band) => ({
        weight: whole(band[0]) + whole(band[1]),
        estimate: band[place].measures[at].estimate,
      })),
      {
        level,
        method: "mover",
        missing: (missing) => `no estimate in the group "${bands[missing][place].group}"`,
      },
    );
  return difference(of(0), of(1), level);
}
