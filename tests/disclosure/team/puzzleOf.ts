import type { StudyResult } from "../../../src/study/index.js";
import { agreementPuzzle, type Target } from "./agreementPuzzle.js";
import { betweenLimits, crossedLimits } from "./limitsPuzzle.js";
import { curvePuzzle, groupPuzzle } from "./partsPuzzle.js";
import { alike, cellsIn, meant, rateIn } from "./printed.js";
import { programmePuzzle } from "./programmePuzzle.js";
import { Puzzle } from "./solver.js";
import { placeOf, sum, tableCells } from "./tableCells.js";
import type { MarkdownTable } from "./writtenTexts.js";

export interface Attacked {
  readonly puzzle: Puzzle;
  readonly targets: readonly Target[];
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

  flowFigurePuzzle(first, files.get("report.md")!, puzzle);
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
  togetherPuzzle(result, [flow, titled("Counts")], puzzle);
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
  curvePuzzle(result, tables, puzzle);
  programmePuzzle(result, tables, puzzle, count);
  targets.push(...agreementPuzzle(result, tables, files, puzzle, count));
  return { puzzle, targets };
}

/** Small counts that were also counted together: which they are follows from how the counts read. */
function togetherPuzzle(
  { conditions, protocol }: StudyResult,
  tables: readonly (MarkdownTable | undefined)[],
  puzzle: Puzzle,
): void {
  const { id, cells } = conditions[0]!;
  const small = (exact: number, name: string) => (exact <= 10 ? [[name, 1] as const] : []);
  const { before, unexamined, undecided } = cells.apart;
  const complete = protocol.verification === "complete";
  const twoEyes = cells.cells.some(({ eyes }) => eyes === 2);
  const rows = twoEyes
    ? []
    : cells.cells.flatMap(({ children }, at) => small(children, `${id} cell ${at}`));
  const outside = [
    ...small(before, "before"),
    ...(complete ? small(unexamined, "unexamined") : []),
    ...small(undecided + (complete ? 0 : unexamined), "undecided"),
  ];
  const said =
    /the (\d+) counts of fewer than 11 among the rows( and those left out)?: ([\d,]+ to [\d,]+)/g;
  for (const notes of new Set(tables.map((table) => table?.notes ?? ""))) {
    for (const [, many, isAll, range] of notes.matchAll(said)) {
      const terms = isAll === undefined ? rows : [...rows, ...outside];
      if (terms.length !== Number(many)) throw new Error(`not ${many} counts: ${terms.join("; ")}`);
      puzzle.between(terms, meant(range), "counted together");
    }
  }
}

/** What the figure of the flow says of those whom the first condition counts. */
function flowFigurePuzzle(
  { id, cells }: StudyResult["conditions"][number],
  report: string,
  puzzle: Puzzle,
): void {
  const said = /!\[Participant flow[^\]]*\]/.exec(report)?.[0] ?? "";
  const group =
    /(referred|passed)(?: or undecided)? ([^(]*) \(with the condition ([^,)]*), without it ([^,)]*)(?:, not examined ([^)]*))?\)/g;
  for (const [, side, ...printed] of said.replaceAll("\\", "").matchAll(group)) {
    const studied = side === "referred" ? "refer" : "pass";
    const of = (isOwn: (place: ReturnType<typeof placeOf>) => boolean) =>
      cells.cells.flatMap((cell, at) =>
        cell.studied === studied && isOwn(placeOf(cell))
          ? [[`${id} cell ${at}`, cell.eyes] as const]
          : [],
      );
    const sums = [
      of(() => true),
      of((place) => place === "truePositive" || place === "falseNegative"),
      of((place) => place === "falsePositive" || place === "trueNegative"),
      of((place) => place === null),
    ];
    for (const [at, words] of printed.entries()) {
      if (words !== undefined) puzzle.between(sums[at]!, meant(words), `flow, ${side} ${at}`);
    }
  }
}
