import type { StudyResult } from "../../../src/study/index.js";
import type { Target } from "./agreementPuzzle.js";
import type { Puzzle } from "./solver.js";
import { type Count, sum, tableCells } from "./tableCells.js";

/** Children between two limits on one variable. */
export function betweenLimits(
  { protocol }: StudyResult,
  shown: StudyResult["conditions"],
  puzzle: Puzzle,
  count: Count,
): void {
  const [first, second] = shown;
  if (second === undefined) return;
  const sidesOf = (id: string) => protocol.conditions.find((one) => one.id === id)!;
  for (const [side, beyond] of [
    ["target", ["truePositive", "falseNegative"]],
    ["referWhen", ["truePositive", "falsePositive"]],
  ] as const) {
    const both = [first!, second].map(({ id }) => sidesOf(id)[side]);
    if (!both.every((one) => "relation" in one)) continue;
    const [one, other] = both as { readonly limit: number }[];
    // all limits of the team are "at least": the lower one lets more through
    const [more, less] = one!.limit <= other!.limit ? [first!, second] : [second, first!];
    const rows = (of: (typeof shown)[number]) => sum(beyond.map((cell) => of.table[cell]));
    const exact = rows(more) - rows(less);
    if (exact < 0) continue;
    const name = `between ${side}`;
    if (one!.limit !== other!.limit) count(name, exact, [0, 1e6]);
    else if (exact === 0) puzzle.count(name, [0, 0], 0);
    else continue;
    puzzle.between(
      [
        [name, -1],
        ...beyond.map((cell) => [`${more.id} ${cell}`, 1] as const),
        ...beyond.map((cell) => [`${less.id} ${cell}`, -1] as const),
      ],
      [0, 0],
      name,
    );
  }
}

/** Rows by where they lie to both limits of the exam, and of the referral: both tables are sums of them. */
export function crossedLimits(
  { protocol }: StudyResult,
  [one, two]: StudyResult["conditions"],
  puzzle: Puzzle,
): Target[] {
  const limits = (side: "target" | "referWhen") =>
    [one, two].map((condition) => {
      const own = protocol.conditions.find(({ id }) => id === condition?.id)?.[side];
      return own !== undefined && "relation" in own ? own.limit : Number.NaN;
    });
  const [exam, referral] = [limits("target"), limits("referWhen")];
  const same = one!.screened === two?.screened && one!.cells.children === two.cells.children;
  if (!same || [...exam, ...referral].some(Number.isNaN)) return [];
  // from every stretch between the limits one value: all limits of the team are "at least"
  const stretches = (at: readonly number[]) => [
    Math.min(...at) - 1,
    ...(at[0] === at[1] ? [] : [Math.min(...at)]),
    Math.max(...at),
  ];
  const cells = stretches(referral).flatMap((reading) =>
    stretches(exam).map((found) => ({ reading, found, name: `reading ${reading}, exam ${found}` })),
  );
  for (const { name } of cells) puzzle.count(name, [0, 1e6]);
  for (const [at, condition] of [one!, two!].entries()) {
    for (const place of tableCells) {
      const own = cells.filter(({ reading, found }) => {
        const isSent = reading >= referral[at]!;
        const has = found >= exam[at]!;
        return (
          place ===
          (has
            ? isSent
              ? "truePositive"
              : "falseNegative"
            : isSent
              ? "falsePositive"
              : "trueNegative")
        );
      });
      puzzle.makeUp(
        `${condition.id} ${place}`,
        own.map(({ name }) => name),
        "both limits",
      );
    }
  }
  return cells.map(({ name }) => ({ name, isOpen: true }));
}
