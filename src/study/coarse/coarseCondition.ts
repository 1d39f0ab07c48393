import {
  accuracyFromCounts,
  boundsOfCounts,
  correctCells,
  partOfWhole,
  type RateSums,
  ratedCells,
  rateSums,
  type VerificationCells,
} from "../../accuracy/index.js";
import {
  type CoarseCount,
  type CoarseRate,
  coarsen,
  coarseRate,
  type RateLimits,
  type SmallCounts,
  totalOf,
} from "../../disclosure/index.js";
import type { Protocol } from "../../protocol/index.js";
import { sum } from "../../rows/index.js";
import type { ConditionCell, ConditionCells } from "../run/studyCells.js";

/** A cell of a condition, its children made coarse. */
export interface CoarseCell extends Omit<ConditionCell, "children"> {
  readonly count: CoarseCount;
}

export const tableCells = [
  "truePositive",
  "falsePositive",
  "falseNegative",
  "trueNegative",
] as const;
export type TableCellName = (typeof tableCells)[number];

/** The four counts of a 2x2 table, made coarse. */
export type CoarseTable = { readonly [cell in TableCellName]: CoarseCount };

export const coarseMeasures = [
  "sensitivity",
  "specificity",
  "positivePredictiveValue",
  "negativePredictiveValue",
  "prevalence",
  "found",
] as const;
export type CoarseMeasure = (typeof coarseMeasures)[number];
export type CoarseRates = { readonly [measure in CoarseMeasure]: CoarseRate | null };

export function coarseCells(
  cells: readonly ConditionCell[],
  rule: SmallCounts,
): readonly CoarseCell[] {
  return cells.map(({ children, ...place }) => ({ ...place, count: coarsen(children, rule) }));
}

/** Where a cell stands in the 2x2 table; null for the unexamined. */
export function tableCellOf({
  studied,
  state,
}: Pick<ConditionCell, "studied" | "state">): TableCellName | null {
  if (state === "unexamined") return null;
  const has = state === "with" || state === "known-with";
  return studied === "refer"
    ? has
      ? "truePositive"
      : "falsePositive"
    : has
      ? "falseNegative"
      : "trueNegative";
}

/** Rows (eyes, or children) of some cells. */
export function rowsIn(cells: readonly CoarseCell[]): CoarseCount {
  return totalOf(
    cells.map(({ count }) => count),
    cells.map(({ eyes }) => eyes),
  );
}

export function coarseTable(cells: readonly CoarseCell[]): CoarseTable {
  const of = (name: TableCellName) => rowsIn(cells.filter((cell) => tableCellOf(cell) === name));
  return {
    truePositive: of("truePositive"),
    falsePositive: of("falsePositive"),
    falseNegative: of("falseNegative"),
    trueNegative: of("trueNegative"),
  };
}

/** Draws of a corrected interval: the limits are printed in whole percent. */
const draws = 300;

type Design = Pick<
  Protocol,
  "level" | "seed" | "sampling" | "verification" | "verificationStrata" | "clusters"
>;

/** Rates over the ranges of the cells, by the functions that make them of exact counts. */
export function coarseRates(
  cells: readonly CoarseCell[],
  { knownStand }: Pick<ConditionCells, "knownStand">,
  design: Design,
): CoarseRates {
  const { level, seed } = design;
  const twoEyes = cells.some(({ eyes }) => eyes === 2);
  if (design.verification === "complete") {
    const at = (counts: readonly number[]) => tableAt(cells, counts);
    return ratesOf(cells, design, at, (measure, counts) => {
      if (measure === "found") return {};
      const table = at(counts);
      return accuracyFromCounts(twoEyes ? halved(table) : table, { level })[measure];
    });
  }
  const at = verificationOf(cells, knownStand);
  return ratesOf(
    cells,
    design,
    (counts) => rateSums(ratedCells(at(counts).cells)),
    (measure, counts) => {
      const corrected = correctCells(at(counts), { level, seed, replicates: draws });
      if (measure !== "found") return corrected[measure];
      const { low, high } = corrected.yieldPer1000;
      return low === undefined || high === undefined ? {} : { low: low / 1000, high: high / 1000 };
    },
  );
}

function ratesOf(
  cells: readonly CoarseCell[],
  { sampling, verification, verificationStrata, clusters }: Design,
  sumsAt: (counts: readonly number[]) => RateSums,
  limitsAt: (measure: CoarseMeasure, counts: readonly number[]) => RateLimits,
): CoarseRates {
  const ofSides: readonly CoarseMeasure[] = ["sensitivity", "specificity"];
  const ofReferred: readonly CoarseMeasure[] = ["positivePredictiveValue", "found"];
  const isGiven = (measure: CoarseMeasure) =>
    // who stands for whom goes by strata, whose cells are not for the public
    (verification === "complete" || verificationStrata === undefined) &&
    (sampling === "cohort" || ofSides.includes(measure)) &&
    (verification !== "none" || ofReferred.includes(measure)) &&
    (verification !== "complete" || measure !== "found");
  const counts = cells.map(({ count }) => count);
  return Object.fromEntries(
    coarseMeasures.map((measure) => [
      measure,
      isGiven(measure)
        ? coarseRate(
            counts,
            (at) => {
              const [part, whole] = partOfWhole(sumsAt(at), measure);
              return part / whole;
            },
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
