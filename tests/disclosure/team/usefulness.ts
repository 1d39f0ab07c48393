import type { StudyResult } from "../../../src/study/index.js";
import { meant, rateIn } from "./printed.js";
import { tablesIn } from "./writtenTexts.js";

/** How near the printed numbers are to the exact ones. */
export interface Useful {
  /** Greatest relative error of the middle of a printed total of the flow; null where none is shown. */
  readonly flow: number | null;
  /** Width of the printed range, and how far its middle is from the exact rate, in percent points. */
  readonly sensitivity: { readonly width: number; readonly off: number } | null;
  readonly specificity: { readonly width: number; readonly off: number } | null;
}

export function usefulness(
  { conditions, flow, protocol }: StudyResult,
  files: ReadonlyMap<string, string>,
): Useful {
  const tables = tablesIn(files.get("report.md")!);
  const first = conditions[0]!;
  const participants = tables.find(({ title }) => title === "Participants");
  const middle = ([low, high]: readonly [number, number]) => (low + high) / 2;
  const exactOf = first.cells.apart;
  const all = exactOf.before + exactOf.unexamined + exactOf.undecided + first.cells.children;
  const total = (cell: string, exact: number) =>
    exact === 0 ? 0 : Math.abs(middle(meant(cell)) - exact) / exact;
  const rows = participants?.rows ?? [];
  const accuracy = tables.find(({ title }) => title.startsWith("Accuracy"));
  const rates = first.verification?.corrected ?? first.accuracy;
  const found = (name: "sensitivity" | "specificity", label: string) => {
    const range = rateIn(accuracy?.rows.find(([own]) => own === label)?.[1]);
    const exact = rates[name];
    if (range === null || exact.kind !== "estimate") return null;
    return { width: range[1] - range[0], off: Math.abs(middle(range) - 100 * exact.value) };
  };
  void [flow, protocol];
  return {
    flow:
      rows.length === 0
        ? null
        : Math.max(total(rows[0]![1]!, all), total(rows.at(-1)![1]!, first.cells.children)),
    sensitivity: found("sensitivity", "Sensitivity"),
    specificity: found("specificity", "Specificity"),
  };
}
