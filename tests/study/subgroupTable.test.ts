import { expect, it } from "vitest";
import { subgroupTable } from "../../src/study/report/variantTables.js";
import type { ConditionResult } from "../../src/study/run/studyResult.js";

type Subgroups = ConditionResult["subgroups"][number];
const share = (value: number) => ({ kind: "estimate", value, low: 0, high: 1, level: 0.95 });
const rates = (sensitivity: number, specificity: number) => ({
  sensitivity: share(sensitivity),
  specificity: share(specificity),
});
const table = { truePositive: 40, falsePositive: 30, falseNegative: 20, trueNegative: 90 };
const corrected = (group: string, own: object) => ({ group, corrected: own });
const condition = { title: "Myopia" } as ConditionResult;
const none = { kind: "undefined", reason: "one group" };
/** Two sites; what was corrected comes in another order than the groups. */
const sites = (correction: readonly object[] | null) =>
  ({
    by: "site",
    role: "exploratory",
    result: {
      homogeneity: { sensitivity: none, specificity: none },
      groups: [
        { group: "north", accuracy: { ...rates(0.6, 0.7), table } },
        { group: "south", accuracy: { ...rates(0.8, 0.9), table } },
      ],
    },
    corrected: correction,
  }) as unknown as Subgroups;
const cells = (subgroups: Subgroups) =>
  subgroupTable(condition, subgroups).rows.map((row) =>
    row.cells.map((cell) =>
      typeof cell === "object" && cell !== null
        ? cell.kind === "estimate"
          ? cell.value
          : cell.kind
        : cell,
    ),
  );

it("shows each group its own corrected rates, in whatever order they come", () => {
  const both = [corrected("south", rates(0.3, 0.4)), corrected("north", rates(0.1, 0.2))];
  expect(cells(sites(both))).toEqual([
    ["north", 0.1, 0.2],
    ["south", 0.3, 0.4],
  ]);
});

it("shows a group's own rates where nothing was corrected", () => {
  expect(cells(sites(null))).toEqual([
    ["north", 0.6, 0.7],
    ["south", 0.8, 0.9],
  ]);
});
