import { isSmallCount, suppressSmallCells } from "../../privacy/index.js";
import { type Estimate, InputError, type TableModel, type Undefined } from "../../results/index.js";
import type { Audience } from "./points.js";

/** One line of a forest figure: a group, a site, an age band, or all together. */
export interface ForestRow {
  readonly label: string;
  readonly n: number;
  readonly estimate: Estimate | Undefined;
  /** Of a proportion: how many of its whole have it and how many not; the public form needs both. */
  readonly counts?: readonly [number, number];
  /** Drawn as a diamond below the others. */
  readonly summary?: boolean;
}

/**
 * Which rows an audience may see: for the public none whose number of rows, or whose counts behind a
 * proportion, are small, and none that would give such a count back as what is left of the sum.
 *
 * @throws when a proportion comes without its counts
 */
export function shownRows(
  rows: readonly ForestRow[],
  isProportion: boolean,
  audience: Audience,
): readonly boolean[] {
  if (audience === "journal") return rows.map(() => true);
  const bare = rows.find(
    ({ counts, estimate }) => isProportion && counts === undefined && estimate.kind === "estimate",
  );
  if (bare !== undefined) {
    throw new InputError(
      `forestFigure for the public requires counts of every proportion, got none for ${bare.label}`,
    );
  }
  const totalRow = rows.findIndex(({ summary }) => summary === true);
  const table: TableModel = {
    kind: "table",
    title: "",
    columns: ["rows", "with", "without"].map((label) => ({ label, format: "count" })),
    rows: rows.map(({ n, counts = [null, null] }) => ({ cells: [n, ...counts] })),
    notes: [],
  };
  const anySmall = rows.some(({ n, counts = [] }) =>
    [n, ...counts].some((one) => isSmallCount(one)),
  );
  if (!anySmall) return rows.map(() => true);
  const { rows: left } = suppressSmallCells(
    table,
    totalRow < 0 ? { sums: "columns" } : { sums: "columns", totalRow },
  );
  return left.map(({ cells }) => !cells.some((cell) => typeof cell === "object" && cell !== null));
}
