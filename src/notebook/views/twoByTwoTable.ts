import type { TableModel, TwoByTwo } from "../../results/index.js";

export function isTwoByTwo(value: object): value is TwoByTwo {
  return cells.every((cell) => typeof (value as Record<string, unknown>)[cell] === "number");
}

const cells = ["truePositive", "falsePositive", "falseNegative", "trueNegative"] as const;

/** The four cells with their margins: decision by condition. Sums of weights need not be whole. */
export function twoByTwoTable(
  { truePositive, falsePositive, falseNegative, trueNegative }: TwoByTwo,
  title = "",
): TableModel {
  const row = (label: string, withCondition: number, without: number) => ({
    cells: [label, withCondition, without, withCondition + without],
  });
  const count = (label: string) => ({ label, format: "count" as const });
  return {
    kind: "table",
    title,
    columns: [
      { label: "", format: "text" },
      ...["With the condition", "Without it", "All"].map(count),
    ],
    rows: [
      row("Referred", truePositive, falsePositive),
      row("Passed", falseNegative, trueNegative),
      row("All", truePositive + falseNegative, falsePositive + trueNegative),
    ],
    notes: [],
  };
}
