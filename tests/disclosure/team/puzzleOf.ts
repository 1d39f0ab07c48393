import type { StudyResult } from "../../../src/study/index.js";
import type { ConditionCell } from "../../../src/study/run/studyCells.js";
import { agreementPuzzle, type Target } from "./agreementPuzzle.js";
import { alike, cellsIn, meant, rateIn } from "./printed.js";
import { programmePuzzle } from "./programmePuzzle.js";
import { Puzzle } from "./solver.js";
import type { MarkdownTable } from "./writtenTexts.js";

export interface Attacked {
  readonly puzzle: Puzzle;
  readonly targets: readonly Target[];
}

const tableCells = ["truePositive", "falsePositive", "falseNegative", "trueNegative"] as const;

function placeOf({ studied, state }: ConditionCell): (typeof tableCells)[number] | null {
  if (state === "unexamined") return null;
  const has = state === "with" || state === "known-with";
  if (studied === "refer") return has ? "truePositive" : "falsePositive";
  return has ? "falseNegative" : "trueNegative";
}

/**
 * What an attacker makes of the files of a report: every count behind a printed number as an unknown with the
 * range of counts that read alike, and every printed number as a sum. Where the report prints only sums of
 * counts, the attacker is given the ranges of their parts as well: more than anyone can read.
 */
export function puzzleOf(
  result: StudyResult,
  tables: readonly MarkdownTable[],
  files: ReadonlyMap<string, string>,
): Attacked {
  const puzzle = new Puzzle();
  const targets: Target[] = [];
  const count = (name: string, exact: number, range = alike(exact)) => {
    puzzle.count(name, range, exact);
    if (exact <= 10) targets.push({ name });
  };
  const { protocol, conditions } = result;
  const first = conditions[0]!;
  const titled = (start: string) => tables.find(({ title }) => title.startsWith(start));
  const twoEyes = first.cells.cells.some(({ eyes }) => eyes === 2);

  const shown = conditions.filter(({ title }) =>
    tables.some((table) => table.title === `Counts: ${title}`),
  );
  for (const condition of shown) {
    const { id, title, cells } = condition;
    const names = cells.cells.map((cell, at) => {
      count(`${id} cell ${at}`, cell.children);
      return [`${id} cell ${at}`, cell.eyes] as const;
    });
    puzzle.count(`${id} rows`, [0, 1e6], sum(cells.cells.map((one) => one.eyes * one.children)));
    puzzle.between([[`${id} rows`, -1], ...names], [0, 0], "rows");
    for (const name of tableCells) {
      const own = cells.cells.flatMap((cell, at) => (placeOf(cell) === name ? [names[at]!] : []));
      puzzle.count(`${id} ${name}`, [0, 1e6], condition.table[name]);
      puzzle.between([[`${id} ${name}`, -1], ...own], [0, 0], name);
    }
    const printed = tables.find((table) => table.title === `Counts: ${title}`)!;
    const [TP, FP, FN, TN] = tableCells.map((name) => [`${id} ${name}`, 1] as const) as [
      readonly [string, number],
      readonly [string, number],
      readonly [string, number],
      readonly [string, number],
    ];
    const sums = [
      [[TP], [FP], [TP, FP]],
      [[FN], [TN], [FN, TN]],
      [
        [TP, FN],
        [FP, TN],
        [TP, FP, FN, TN],
      ],
    ];
    for (const [row, list] of sums.entries()) {
      for (const [column, terms] of list.entries()) {
        const cell = printed.rows[row]![column + 1];
        puzzle.between(terms, meant(cell), `counts ${row} ${column}`);
      }
    }
    if (protocol.verification === "complete") {
      const accuracy = tables.find((table) => table.title === `Accuracy: ${title}`);
      for (const [label, part, whole] of [
        ["Sensitivity", [TP], [TP, FN]],
        ["Specificity", [TN], [TN, FP]],
        ["Positive predictive value", [TP], [TP, FP]],
        ["Negative predictive value", [TN], [TN, FN]],
        ["Prevalence in the sample", [TP, FN], [TP, FP, FN, TN]],
      ] as const) {
        const range = rateIn(accuracy?.rows.find(([own]) => own === label)?.[1]);
        if (range !== null) puzzle.share(part, whole, range, 100, label);
      }
      const thousand = tables.find(
        (table) => table.title === `Of 1000, what the referral does: ${title}`,
      );
      if (protocol.sampling === "cohort") {
        for (const [label, part] of [
          ["Referred", [TP, FP]],
          ["Referred, with the condition", [TP]],
          ["Referred, without it", [FP]],
          ["Passed, with the condition (missed)", [FN]],
          ["Passed, without it", [TN]],
        ] as const) {
          const range = rateIn(thousand?.rows.find(([own]) => own === label)?.[1]);
          if (range !== null) puzzle.share(part, [TP, FP, FN, TN], range, 1000, `1000 ${label}`);
        }
      }
    }
  }
  if (shown[0] !== first) throw new Error("the first condition is always shown");

  const flow = titled("Participants");
  const { apart, children } = first.cells;
  if (flow !== undefined) {
    const [all, before, ...later] = cellsIn(flow, 1);
    const complete = protocol.verification === "complete";
    const undecided = apart.undecided + (complete ? 0 : apart.unexamined);
    count("before", apart.before, meant(before));
    if (complete) count("unexamined", apart.unexamined, meant(later[0]));
    count("undecided", undecided, meant(later.at(-2)));
    const outside = ["before", ...(complete ? ["unexamined"] : []), "undecided"];
    const compared = meant(later.at(-1));
    if (twoEyes) count("compared", children, compared);
    else puzzle.count("compared", compared, children);
    puzzle.count("all", meant(all), apart.before + apart.unexamined + apart.undecided + children);
    puzzle.makeUp("all", [...outside, "compared"], "all");
    if (twoEyes) {
      // a child has one eye among the rows, or two
      const eyes = puzzle.truth.get(`${first.id} rows`)!;
      count("one eye", 2 * children - eyes, [0, 1e6]);
      count("two eyes", eyes - children, [0, 1e6]);
      puzzle.makeUp("compared", ["one eye", "two eyes"], "children by eyes");
      puzzle.between(
        [
          [`${first.id} rows`, -1],
          ["one eye", 1],
          ["two eyes", 2],
        ],
        [0, 0],
        "eyes",
      );
    } else puzzle.makeUp("compared", [`${first.id} rows`], "compared");
    for (const condition of shown.slice(1).filter(() => !twoEyes)) {
      const own = condition.cells.apart;
      count(`${condition.id} apart`, own.before + own.unexamined + own.undecided, [0, 1e6]);
      puzzle.makeUp("all", [`${condition.id} apart`, `${condition.id} rows`], "other rows");
    }
  }
  for (const condition of shown.slice(1)) {
    if (
      condition.screened === first.screened &&
      condition.cells.children === first.cells.children
    ) {
      puzzle.makeUp(`${condition.id} rows`, [`${first.id} rows`], "same rows");
    }
  }
  betweenLimits(result, shown, puzzle, count);
  targets.push(...crossedLimits(result, shown, puzzle));
  if (protocol.verification === "complete") groupPuzzle(result, tables, puzzle, count);
  curvePuzzle(result, tables, puzzle, count);
  programmePuzzle(result, tables, puzzle, count);
  targets.push(...agreementPuzzle(result, tables, files, puzzle, count));
  return { puzzle, targets };
}

type Count = (name: string, exact: number, range?: readonly [number, number]) => void;

const sum = (numbers: readonly number[]) => numbers.reduce((all, one) => all + one, 0);

/** Children between two limits on one variable. */
function betweenLimits(
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
function crossedLimits(
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

/** Groups make up each cell of the whole. */
function groupPuzzle(
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
function curvePuzzle(
  { conditions }: StudyResult,
  tables: readonly MarkdownTable[],
  puzzle: Puzzle,
  count: Count,
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
  void count;
}
