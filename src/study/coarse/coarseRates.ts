import {
  accuracyFromCounts,
  boundsOfCounts,
  correctCells,
  type OutcomeMeasure,
  outcomeMeasures,
  outcomeShare,
  outcomesOfCells,
  partOfWhole,
  type RateSums,
  ratedCells,
  rateSums,
  type VerificationCells,
} from "../../accuracy/index.js";
import { type CoarseRate, coarseRate, type RateLimits } from "../../disclosure/index.js";
import { proportionInterval } from "../../inference/index.js";
import type { Protocol } from "../../protocol/index.js";
import { sum } from "../../rows/index.js";
import type { ConditionCell, ConditionCells } from "../run/studyCells.js";
import { type CoarseCell, tableCellOf } from "./coarseCondition.js";

export const coarseMeasures = [
  "sensitivity",
  "specificity",
  "positivePredictiveValue",
  "negativePredictiveValue",
  "prevalence",
  ...outcomeMeasures,
] as const;
export type CoarseMeasure = (typeof coarseMeasures)[number];
export type CoarseRates = { readonly [measure in CoarseMeasure]: CoarseRate | null };

/** Draws of a corrected interval: the limits are printed in whole percent. */
const draws = 300;

type Design = Pick<
  Protocol,
  "level" | "seed" | "sampling" | "verification" | "verificationStrata" | "clusters"
>;

/** Rates over the ranges of the cells, by the functions that make them of exact counts; null for others than `measures`. */
export function coarseRates(
  cells: readonly CoarseCell[],
  { knownStand }: Pick<ConditionCells, "knownStand">,
  design: Design,
  measures: readonly CoarseMeasure[] = coarseMeasures,
): CoarseRates {
  const { level, seed } = design;
  const twoEyes = cells.some(({ eyes }) => eyes === 2);
  if (design.verification === "complete") {
    const at = (counts: readonly number[]) => tableAt(cells, counts);
    const share = (measure: CoarseMeasure, counts: readonly number[]) =>
      quotient(partOfWhole(at(counts), measure));
    return ratesOf(cells, design, measures, share, (measure, counts) => {
      const table = twoEyes ? halved(at(counts)) : at(counts);
      if (!isOutcome(measure)) return accuracyFromCounts(table, { level })[measure];
      const [successes, trials] = partOfWhole(table, measure);
      return proportionInterval({ successes, trials }, { level });
    });
  }
  const at = verificationOf(cells, knownStand);
  return ratesOf(
    cells,
    design,
    measures,
    (measure, counts) =>
      isOutcome(measure)
        ? outcomeShare(at(counts), measure)
        : quotient(partOfWhole(rateSums(ratedCells(at(counts).cells)), measure)),
    (measure, counts) => {
      const settings = { level, seed, replicates: draws };
      const corrected = correctCells(at(counts), settings);
      if (!isOutcome(measure)) return corrected[measure];
      return outcomesOfCells(at(counts), settings, corrected)[measure];
    },
  );
}

const quotient = ([part, whole]: readonly [number, number]) => part / whole;

const isOutcome = (measure: CoarseMeasure): measure is OutcomeMeasure =>
  (outcomeMeasures as readonly string[]).includes(measure);

function ratesOf(
  cells: readonly CoarseCell[],
  { sampling, verification, verificationStrata, clusters }: Design,
  measures: readonly CoarseMeasure[],
  shareAt: (measure: CoarseMeasure, counts: readonly number[]) => number,
  limitsAt: (measure: CoarseMeasure, counts: readonly number[]) => RateLimits,
): CoarseRates {
  const ofSides: readonly CoarseMeasure[] = ["sensitivity", "specificity"];
  const ofReferred: readonly CoarseMeasure[] = [
    "positivePredictiveValue",
    "referred",
    "found",
    "wronglyReferred",
  ];
  const isGiven = (measure: CoarseMeasure) =>
    measures.includes(measure) &&
    // who stands for whom goes by strata, whose cells are not for the public
    (verification === "complete" || verificationStrata === undefined) &&
    (sampling === "cohort" || ofSides.includes(measure)) &&
    (verification !== "none" || ofReferred.includes(measure));
  const counts = cells.map(({ count }) => count);
  return Object.fromEntries(
    coarseMeasures.map((measure) => [
      measure,
      isGiven(measure)
        ? coarseRate(
            counts,
            (at) => shareAt(measure, at),
            // an interval over sites needs the children of each
            (at) => (clusters === "site" ? {} : limitsAt(measure, at)),
          )
        : null,
    ]),
  ) as CoarseRates;
}

/** The least and the greatest rate if nothing is assumed of the unexamined. */
export function coarseBounds(
  cells: readonly CoarseCell[],
): Pick<CoarseRates, "sensitivity" | "specificity"> {
  const counts = cells.map(({ count }) => count);
  const cellsAt = verificationOf(cells, false);
  const at = (exact: readonly number[]) => boundsOfCounts(cellsAt(exact).counts);
  const range = (measure: "sensitivity" | "specificity") => {
    const [least, most] = (["low", "high"] as const).map((end) =>
      coarseRate(
        counts,
        (exact) => at(exact)[measure][end] ?? Number.NaN,
        () => ({}),
      ),
    );
    return least && most && { ...least, to: most.to };
  };
  return { sensitivity: range("sensitivity"), specificity: range("specificity") };
}

/** Two eyes of a child count as one, so that no interval is too narrow. */
function halved({ truePositive, falsePositive, falseNegative, trueNegative }: RateSums): RateSums {
  return {
    truePositive: Math.floor(truePositive / 2),
    falsePositive: Math.floor(falsePositive / 2),
    falseNegative: Math.floor(falseNegative / 2),
    trueNegative: Math.floor(trueNegative / 2),
  };
}

function tableAt(cells: readonly CoarseCell[], counts: readonly number[]): RateSums {
  const table = { truePositive: 0, falsePositive: 0, falseNegative: 0, trueNegative: 0 };
  cells.forEach((cell, at) => {
    const name = tableCellOf(cell);
    if (name !== null) table[name] += cell.eyes * counts[at]!;
  });
  return table;
}

/** From exact counts of the cells to the cells that the correction takes. */
function verificationOf(
  cells: readonly CoarseCell[],
  knownStand: boolean,
): (counts: readonly number[]) => VerificationCells {
  const placesOf = (keep: (cell: CoarseCell) => boolean) =>
    cells.flatMap((cell, at) => (keep(cell) ? [at] : []));
  const groups = (["refer", "pass", "unable"] as const).flatMap((recorded) =>
    (["refer", "pass"] as const).map((studied) => {
      const of = (state: ConditionCell["state"]) =>
        placesOf(
          (cell) => cell.recorded === recorded && cell.studied === studied && cell.state === state,
        );
      return {
        recorded,
        studied,
        has: of("with"),
        hasNot: of("without"),
        unexamined: of("unexamined"),
        knownHas: of("known-with"),
        knownHasNot: of("known-without"),
      };
    }),
  );
  return (counts) => {
    const rows = (places: readonly number[]) =>
      places.reduce((total, at) => total + cells[at]!.eyes * counts[at]!, 0);
    const made: VerificationCells["cells"][number][] = [];
    const unverified = { testPositive: 0, testNegative: 0 };
    let n = 0;
    for (const { recorded, studied, ...of } of groups) {
      const cases = rows(of.has);
      const examined = cases + rows(of.hasNot);
      const unexamined = rows(of.unexamined);
      const knownCases = rows(of.knownHas);
      const known = knownCases + rows(of.knownHasNot);
      unverified[studied === "refer" ? "testPositive" : "testNegative"] += unexamined;
      n += examined + unexamined + known;
      const cell = { recorded, studied, group: "", examined, cases, own: false };
      const size = examined + unexamined + (knownStand ? 0 : known);
      if (size > 0) made.push({ ...cell, n: size, knownOnly: knownStand ? 0 : known });
      if (knownStand && known > 0) {
        const own = { n: known, examined: known, cases: knownCases, knownOnly: 0, own: true };
        made.push({ ...cell, ...own });
      }
    }
    const children = sum(counts);
    const knownOnly = counts.map((count, at) =>
      !knownStand && cells[at]!.state.startsWith("known") ? count : 0,
    );
    return {
      kind: "verification-cells",
      n,
      cells: made,
      counts: { verified: tableAt(cells, counts), unverified },
      knownOnly: tableAt(cells, knownOnly),
      excluded: 0,
      rowsPerChild: children === 0 ? 1 : n / children,
    };
  };
}
