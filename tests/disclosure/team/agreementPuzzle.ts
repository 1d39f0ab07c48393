import type { StudyResult } from "../../../src/study/index.js";
import { alike, meant, rateIn } from "./printed.js";
import type { Puzzle } from "./solver.js";
import type { MarkdownTable } from "./writtenTexts.js";

/** A small count under attack, or one of which the attacker does not know whether it is small. */
export interface Target {
  readonly name: string;
  /** Whether nobody counts it: disclosed where it may be small and has not the range of a small one. */
  readonly isOpen?: true;
  /** Rows of the agreement in some cells, within two differences or without, which are counted where it matters. */
  readonly rows?: {
    readonly quantity: "M" | "J0" | "J45";
    readonly cells: readonly Cell[];
    readonly from: number;
    readonly to: number;
    readonly isWithin: boolean;
  };
}

interface Cell {
  readonly name: string;
  readonly x: number;
  readonly x2: number;
  readonly y: number;
  readonly y2: number;
}

/** Eyes of the agreement: cells of the figures, shares, rows beyond the limits, and what ties them to the tables. */
export function agreementPuzzle(
  result: StudyResult,
  tables: readonly MarkdownTable[],
  files: ReadonlyMap<string, string>,
  puzzle: Puzzle,
  count: (name: string, exact: number, range?: readonly [number, number]) => void,
): Target[] {
  const { agreement, protocol, conditions } = result;
  const first = conditions[0]!;
  const targets: Target[] = [];
  const M = agreement.find(({ quantity }) => quantity === "M")!;
  const J = agreement.find(({ quantity }) => quantity !== "M");
  const examined = ["truePositive", "falsePositive", "falseNegative", "trueNegative"].map(
    (name) =>
      [
        `${first.id} ${name}`,
        protocol.unit === "child" && protocol.eye === "worse" ? 2 : 1,
      ] as const,
  );
  const rows = examined.reduce((all, [name, times]) => all + times * puzzle.truth.get(name)!, 0);
  puzzle.count("M eyes", [0, 1e6], M.limits.n);
  const unpaired = rows - M.limits.n;
  count("unpaired", Math.abs(unpaired), [0, 1e6]);
  puzzle.between(
    [["M eyes", -1], ...examined, ["unpaired", unpaired < 0 ? 1 : -1]],
    [0, 0],
    "eyes of the agreement",
  );
  if (J !== undefined) {
    const without = M.limits.n - J.limits.n;
    puzzle.count("J eyes", [0, 1e6], J.limits.n);
    count("without an axis", Math.abs(without), [0, 1e6]);
    puzzle.between(
      [
        ["M eyes", -1],
        ["J eyes", 1],
        ["without an axis", without < 0 ? -1 : 1],
      ],
      [0, 0],
      "eyes with an axis",
    );
  }
  const cellsOf = (figure: string, eyes: string): Cell[] => {
    const text = files.get(`figures/${figure}.svg`) ?? "";
    const number = "(−?[\\d.,]+)";
    const label = new RegExp(
      `x: ${number}; y: ${number}; x2: ${number}; y2: ${number}; n: ([\\d,]+)`,
      "g",
    );
    const own = [...text.matchAll(label)].map(([, x, y, x2, y2, n], at) => {
      const name = `${figure} ${at}`;
      puzzle.count(name, alike(Number(n!.replaceAll(",", ""))));
      return { name, x: signed(x!), x2: signed(x2!), y: signed(y!), y2: signed(y2!) };
    });
    if (own.length > 0)
      puzzle.makeUp(
        eyes,
        own.map(({ name }) => name),
        figure,
      );
    return own;
  };
  const report = files.get("report.md")!;
  for (const { quantity, limits } of agreement) {
    const eyes = quantity === "M" ? "M eyes" : "J eyes";
    const figure = `difference-against-mean-${quantity}`;
    const cells = cellsOf(figure, eyes);
    const caption =
      report.split("*Figure ").find((part) => part.includes(captions[quantity])) ?? "";
    const beyond =
      /Beyond bias ± SDs: (fewer than 11|[\d,]+) eyes below, (fewer than 11|[\d,]+) above/.exec(
        caption.split("\n")[0]!,
      );
    const regions: [name: string, from: number, to: number, about: number][] = [];
    if (beyond !== null) {
      const { below, above } = limits.outside;
      count(`${quantity} below`, below, meant(beyond[1]));
      count(`${quantity} above`, above, meant(beyond[2]));
      count(`${quantity} inside`, limits.n - below - above, [0, 1e6]);
      puzzle.makeUp(
        eyes,
        ["below", "above", "inside"].map((side) => `${quantity} ${side}`),
        `${quantity} beyond its limits`,
      );
      regions.push([`${quantity} below`, -1e6, limits.lower.value!, 0.005]);
      regions.push([`${quantity} above`, limits.upper.value!, 1e6, 0.005]);
    }
    const share = tables.find(({ title }) => title.startsWith("Differences within"));
    if (quantity === "M" && share !== undefined) {
      const step = Number(/nearest multiple of (\d+)/.exec(share.notes)![1]);
      const [, within, others, rate] = share.rows[0]!;
      const inside = Math.round(M.withinAcceptable!.value! * limits.n);
      count("within", inside, meant(within, step));
      count("beyond", limits.n - inside, meant(others, step));
      puzzle.makeUp(eyes, ["within", "beyond"], "the acceptable difference");
      puzzle.share(
        [["within", 1]],
        [
          ["within", 1],
          ["beyond", 1],
        ],
        rateIn(rate)!,
        100,
        "share within",
      );
      regions.push(["within", -protocol.acceptableDifference, protocol.acceptableDifference, 0]);
      if (beyond !== null) {
        const far = limits.outside.below + limits.outside.above;
        const isInner = limits.n - inside >= far;
        count(
          "from the acceptable difference to the limits",
          Math.abs(limits.n - inside - far),
          [0, 1e6],
        );
        puzzle.between(
          [
            ["beyond", -1],
            ["M below", 1],
            ["M above", 1],
            ["from the acceptable difference to the limits", isInner ? 1 : -1],
          ],
          [0, 0],
          "acceptable and limits",
        );
      }
    }
    for (const [name, from, to, about] of regions) {
      const [all, cut] = [wholly(cells, from, to, about), partly(cells, from, to, about)];
      if (cut.length === 0) continue;
      const own = `${name}, of cells that it cuts`;
      puzzle.count(own, [0, 1e6]);
      puzzle.makeUp(name, [...all.map((cell) => cell.name), own], own);
      puzzle.count(`${own}, the others`, [0, 1e6]);
      puzzle.between(
        [[own, -1], [`${own}, the others`, -1], ...cut.map((cell) => [cell.name, 1] as const)],
        [0, 0],
        own,
      );
      // the attacker does not know whether it is small: who does, counts it
      const place = { quantity, cells: toTheEnds(cut, cells), from, to };
      targets.push({ name: own, rows: { ...place, isWithin: true } });
      targets.push({ name: `${own}, the others`, rows: { ...place, isWithin: false } });
    }
  }
  cellsOf("double-angle-difference", "J eyes");
  return targets;
}

const captions = {
  M: "Spherical equivalent M",
  J0: "Astigmatic component J0",
  J45: "Astigmatic component J45",
} as const;

const signed = (words: string) => Number(words.replace("−", "-").replaceAll(",", ""));

const wholly = (cells: readonly Cell[], from: number, to: number, about: number) => {
  const { low, high } = ends(cells);
  return cells.filter(
    ({ y, y2 }) =>
      (y <= low ? Number.NEGATIVE_INFINITY : y) >= from + about &&
      (y2 >= high ? Number.POSITIVE_INFINITY : y2) <= to - about,
  );
};

/** Cells that a region holds in part, for all that is known. */
const partly = (cells: readonly Cell[], from: number, to: number, about: number) => {
  const inside = new Set(wholly(cells, from, to, about));
  return cells.filter(
    (cell) => !inside.has(cell) && cell.y2 > from - about && cell.y <= to + about,
  );
};

const ends = (cells: readonly Cell[]) => ({
  low: Math.min(...cells.map(({ y }) => y)),
  high: Math.max(...cells.map(({ y2 }) => y2)),
});

/** The outermost cells hold all that lies beyond. */
const toTheEnds = (cut: readonly Cell[], cells: readonly Cell[]): readonly Cell[] => {
  const { low, high } = ends(cells);
  const [left, right] = [
    Math.min(...cells.map(({ x }) => x)),
    Math.max(...cells.map(({ x2 }) => x2)),
  ];
  return cut.map((cell) => ({
    ...cell,
    x: cell.x <= left ? Number.NEGATIVE_INFINITY : cell.x,
    x2: cell.x2 >= right ? Number.POSITIVE_INFINITY : cell.x2,
    y: cell.y <= low ? Number.NEGATIVE_INFINITY : cell.y,
    y2: cell.y2 >= high ? Number.POSITIVE_INFINITY : cell.y2,
  }));
};
