import { type CoarseCount, type CoarseRate, coarseRate, totalOf } from "../disclosure/index.js";
import { proportionInterval } from "../inference/index.js";
import {
  correctedFigures,
  examinedOfReferred,
  otherFigures,
  type ProgrammeMeasure,
  type ProgrammeMeasureId,
  shares,
} from "./programmeMeasures.js";

/** One figure of a programme, of coarse counts. */
export interface CoarseProgrammeMeasure extends Pick<ProgrammeMeasure, "id" | "words" | "unit"> {
  readonly counted: CoarseCount | null;
  readonly of: CoarseCount | null;
  readonly rate: CoarseRate;
}

/** Children counted, and the rest of those out of whom they are counted. */
export interface CoarseShare {
  readonly counted: readonly CoarseCount[];
  readonly rest: readonly CoarseCount[];
  /** Which of the two is all who were screened: those counted, or those out of whom they are counted. */
  readonly screened?: "counted" | "of";
}

/** What coarse counts give of a programme's figures; a figure that is missing is not shown. */
export interface CoarseFigures {
  readonly shares: { readonly [measure in ProgrammeMeasureId]?: CoarseShare };
  /** Corrected for who was examined, as shares of 1. */
  readonly corrected: { readonly [measure in ProgrammeMeasureId]?: CoarseRate | null };
}

type Figure = Pick<ProgrammeMeasure, "id" | "words" | "unit">;

const figureOf = ({ id, words, unit = "share" }: Omit<Figure, "unit"> & Partial<Figure>) => ({
  id,
  words,
  unit,
});

/** Every figure of a programme in words and units, in the order of `programmeMeasures`, with those for the public alone. */
export const programmeFigures: readonly Figure[] = [
  ...shares.slice(0, -1).flatMap((share) => {
    const figure = figureOf(share);
    if (share.id === "followUp") return [figure, examinedOfReferred];
    return share.id === "withinDays" ? [otherFigures.daysToExam, figure] : [figure];
  }),
  otherFigures.examsPerCase,
  ...correctedFigures.map(figureOf),
  figureOf(shares[shares.length - 1]!),
];

/**
 * The figures of a programme for the public, each over the ranges of its coarse counts, with Wilson's
 * interval at the ends; without one where intervals go by site, as that needs the children of each.
 *
 * @param screened all who were screened, as they are shown elsewhere; null where the figures are of a part of them
 * @returns those that the counts give, in the order of the journal's
 */
export function coarseMeasures(
  { shares: given, corrected }: CoarseFigures,
  { level, clusters }: { readonly level: number; readonly clusters?: "child" | "site" },
  screened: CoarseCount | null = null,
): CoarseProgrammeMeasure[] {
  return programmeFigures.flatMap(({ id, words, unit }): CoarseProgrammeMeasure[] => {
    const share = given[id];
    if (share === undefined) {
      const rate = corrected[id] ?? null;
      return rate === null ? [] : [{ id, words, unit, counted: null, of: null, rate }];
    }
    const whole = (which: NonNullable<CoarseShare["screened"]>, parts: readonly CoarseCount[]) =>
      screened !== null && share.screened === which ? screened : totalOf(parts);
    const [counted, rest] = [whole("counted", share.counted), totalOf(share.rest)];
    const isRatio = unit === "number";
    const value = ([part, others]: readonly number[]) =>
      isRatio ? (part! + others!) / part! : part! / (part! + others!);
    const rate = coarseRate([counted, rest], value, ([part, others]) => {
      if (clusters === "site") return {};
      const interval = proportionInterval({ successes: part!, trials: part! + others! }, { level });
      if (interval.kind === "undefined") return {};
      const { low, high } = interval;
      return isRatio ? { low: 1 / high, high: 1 / low } : { low, high };
    });
    if (rate === null || !Number.isFinite(rate.to)) return [];
    return [{ id, words, unit, counted, of: whole("of", [counted, rest]), rate }];
  });
}
