import type { StudyResult } from "../../../src/study/index.js";
import { meant, rateIn } from "./printed.js";
import type { Puzzle } from "./solver.js";
import { type Count, placeOf, sum, tableCells } from "./tableCells.js";
import type { MarkdownTable } from "./writtenTexts.js";

/** Groups make up each cell of the whole. */
export function groupPuzzle(
  { conditions }: StudyResult,
  tables: readonly MarkdownTable[],
  puzzle: Puzzle,
  count: Count,
): void {
  const { id, title, subgroups } = conditions[0]!;
  const own = tables.filter(
    (table) => table.title.startsWith("By ") && table.title.endsWith(`: ${title}`),
  );
  for (const [grouping, table] of own.entries()) {
    const names = table.rows.map(([name]) => name!);
    const { cells } = subgroups[grouping]!;
    for (const [column, place] of tableCells.entries()) {
      if (table.rows.some((row) => row[column + 1] === "not shown")) continue;
      const parts: (readonly [string, number])[] = [];
      for (const [at, name] of names.entries()) {
        const members = cells.filter(({ group }) =>
          name === "all other sites" ? !names.includes(group) : group === name,
        );
        const inPlace = members.flatMap((one) =>
          one.cells.filter((cell) => placeOf(cell) === place),
        );
        const eyes = [...new Set(cells[0]!.cells.map((cell) => cell.eyes))];
        const mine = eyes.map((eyesOf) => {
          const exact = sum(
            inPlace.filter((cell) => cell.eyes === eyesOf).map((cell) => cell.children),
          );
          const part = `${grouping} ${name} ${place} ${eyesOf}`;
          count(part, exact);
          return [part, eyesOf] as const;
        });
        puzzle.between(mine, meant(table.rows[at]![column + 1]), `group ${name} ${place}`);
        parts.push(...mine);
      }
      puzzle.between([[`${id} ${place}`, -1], ...parts], [0, 0], `groups ${place}`);
    }
    const [TP, FP, FN, TN] = [1, 2, 3, 4];
    for (const row of table.rows) {
      const of = (column: number) =>
        [...puzzle.ranges.keys()]
          .filter((name) => name.startsWith(`${grouping} ${row[0]} ${tableCells[column - 1]} `))
          .map((name) => [name, Number(name.at(-1))] as const);
      for (const [column, part, whole] of [
        [5, [TP], [TP, FN]],
        [6, [TN], [TN, FP]],
      ] as const) {
        const range = rateIn(row[column]);
        if (range === null) continue;
        puzzle.share(part.flatMap(of), whole.flatMap(of), range, 100, `group rate ${row[0]}`);
      }
    }
  }
}

/** Bands between the stops of a curve, of either kind. */
export function curvePuzzle(
  { conditions }: StudyResult,
  tables: readonly MarkdownTable[],
  puzzle: Puzzle,
): void {
  for (const { id, title } of conditions) {
    const stops = tables.find((table) => table.title === `Other limits: ${title}`);
    if (stops === undefined) continue;
    const fixed = stops.rows.findIndex(([words]) => words!.includes("fixed in advance"));
    for (const [kind, column, sides] of [
      ["with", 1, ["truePositive", "falseNegative"]],
      ["without", 2, ["falsePositive", "trueNegative"]],
    ] as const) {
      const beyond = stops.rows.map((row) => meant(row[column]));
      const within = stops.rows.map((row) => meant(row[column + 2]));
      const bands = [
        ...beyond.map((range, stop): [number, number] =>
          stop === 0
            ? [range[0], range[1]]
            : [range[0] - beyond[stop - 1]![0], range[1] - beyond[stop - 1]![1]],
        ),
        within.at(-1)!,
      ];
      const names = bands.map((range, band) => {
        puzzle.count(`${id} band ${band} ${kind}`, range);
        return `${id} band ${band} ${kind}`;
      });
      if (bands.some(([low]) => low < 11)) throw new Error("a band of fewer than 11");
      puzzle.makeUp(`${id} ${sides[0]}`, names.slice(0, fixed + 1), `bands ${kind}`);
      puzzle.makeUp(`${id} ${sides[1]}`, names.slice(fixed + 1), `bands ${kind}`);
    }
  }
}
