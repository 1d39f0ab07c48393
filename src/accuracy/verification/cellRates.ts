import type { VerificationCell } from "./verificationCells.js";

/** Largest share of its decision's children that a cell without an exam may have to borrow a rate. */
const borrowsUpTo = 0.05;

/** A cell with the counts that its rate comes from. */
export interface RatedCell extends VerificationCell {
  /** Examined and cases behind the rate: the cell's, or its decision's where it borrows. */
  readonly behind: { readonly examined: number; readonly cases: number };
  readonly borrows: boolean;
  /** Nobody was examined and the cell is too large to borrow: it has no rate. */
  readonly blind: boolean;
  /** Nobody at all of its decision stands for others. */
  readonly blindDecision: boolean;
}

/** Each cell with its rate's counts. An empty cell of at most 5 % of its decision borrows its rate. */
export function ratedCells(cells: readonly VerificationCell[]): RatedCell[] {
  return cells
    .filter(({ n }) => n > 0)
    .map((cell) => {
      const alike = cells.filter(({ recorded, own }) => recorded === cell.recorded && !own);
      const total = (name: "n" | "examined" | "cases") =>
        alike.reduce((sum, one) => sum + one[name], 0);
      const decision = { examined: total("examined"), cases: total("cases") };
      const empty = cell.examined === 0;
      const borrows = empty && decision.examined > 0 && cell.n <= borrowsUpTo * total("n");
      return {
        ...cell,
        behind: borrows ? decision : { examined: cell.examined, cases: cell.cases },
        borrows,
        blind: empty && !borrows,
        blindDecision: decision.examined === 0 && !cell.own,
      };
    });
}

/** Children with and without the condition by the studied rule, the examined standing for the others. */
export interface RateSums {
  readonly truePositive: number;
  readonly falsePositive: number;
  readonly falseNegative: number;
  readonly trueNegative: number;
}

/** Sums of n p and n (1 - p) over the cells that have a rate. */
export function rateSums(cells: readonly RatedCell[]): RateSums {
  const sums = { truePositive: 0, falsePositive: 0, falseNegative: 0, trueNegative: 0 };
  for (const { studied, n, behind, blind } of cells) {
    if (blind) continue;
    const cases = (n * behind.cases) / behind.examined;
    sums[studied === "refer" ? "truePositive" : "falseNegative"] += cases;
    sums[studied === "refer" ? "falsePositive" : "trueNegative"] += n - cases;
  }
  return sums;
}

/** The measures that are made of the four sums. */
export const correctedMeasures = [
  "sensitivity",
  "specificity",
  "positivePredictiveValue",
  "negativePredictiveValue",
  "prevalence",
  "found",
] as const;
export type CorrectedMeasure = (typeof correctedMeasures)[number];

/** What becomes of all children: referred; rightly, wrongly, missed, rightly passed. */
export const outcomeMeasures = [
  "referred",
  "found",
  "wronglyReferred",
  "missed",
  "rightlyPassed",
] as const;
export type OutcomeMeasure = (typeof outcomeMeasures)[number];
export type RateMeasure = CorrectedMeasure | OutcomeMeasure;

/** Part and whole of a measure; "found" is cases among those whom the rule refers, of all children. */
export function partOfWhole(
  { truePositive, falsePositive, falseNegative, trueNegative }: RateSums,
  measure: RateMeasure,
  all = truePositive + falsePositive + falseNegative + trueNegative,
): [number, number] {
  switch (measure) {
    case "sensitivity":
      return [truePositive, truePositive + falseNegative];
    case "specificity":
      return [trueNegative, trueNegative + falsePositive];
    case "positivePredictiveValue":
      return [truePositive, truePositive + falsePositive];
    case "negativePredictiveValue":
      return [trueNegative, trueNegative + falseNegative];
    case "prevalence":
      return [truePositive + falseNegative, all];
    case "found":
      return [truePositive, all];
    case "referred":
      return [truePositive + falsePositive, all];
    case "wronglyReferred":
      return [falsePositive, all];
    case "missed":
      return [falseNegative, all];
    case "rightlyPassed":
      return [trueNegative, all];
  }
}

/** A var(B) / (A + B)³, A and B the children with the condition referred and missed. */
export function ratioBiasOf(cells: readonly RatedCell[]): number {
  const { truePositive, falseNegative } = rateSums(cells);
  let variance = 0;
  for (const { studied, n, behind, blind } of cells) {
    if (studied !== "pass" || blind) continue;
    const rate = behind.cases / behind.examined;
    variance += n * rate ** 2 + (n ** 2 * rate * (1 - rate)) / behind.examined;
  }
  const all = cells.reduce((sum, { n }) => sum + n, 0);
  variance = Math.max(0, variance - falseNegative ** 2 / all);
  return (truePositive * variance) / (truePositive + falseNegative) ** 3;
}
