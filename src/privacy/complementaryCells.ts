/** A count, or null where the table has none. */
type Counts = readonly (readonly (number | null)[])[];

interface Cell {
  readonly row: number;
  readonly column: number;
  readonly count: number;
  readonly total: boolean;
}

interface Options {
  readonly fewerThan: number;
  readonly sums: "columns" | "rows" | "both";
  /** -1 where the table holds no such line. */
  readonly totalRow: number;
  readonly totalColumn: number;
}

/**
 * Which cells go out: small ones, and more until no known sum gives one back.
 *
 * @param also cells that go out whatever they count
 */
export function complementaryCells(
  counts: Counts,
  options: Options,
  also: readonly (readonly boolean[])[] = [],
): boolean[][] {
  const { fewerThan } = options;
  const out = counts.map((row, at) =>
    row.map(
      (count, column) =>
        isSmall(count, fewerThan) || (count !== null && also[at]?.[column] === true),
    ),
  );
  const lines = knownLines(counts, options);
  for (;;) {
    const open =
      lines.find((line) => isOpen(line, out, fewerThan)) ?? lineOfBridge(counts, out, lines);
    const cover = open && coverFor(open, out);
    if (cover === undefined) return out;
    out[cover.row]![cover.column] = true;
  }
}

/** Rows and columns whose counts add up to something that a reader knows. */
function knownLines(counts: Counts, { sums, totalRow, totalColumn }: Options): Cell[][] {
  const cells = counts.flatMap((line, row) =>
    line.flatMap((count, column): Cell[] =>
      count === null
        ? []
        : [{ row, column, count, total: row === totalRow || column === totalColumn }],
    ),
  );
  const by = (key: "row" | "column") => {
    const groups = new Map<number, Cell[]>();
    for (const cell of cells) groups.set(cell[key], [...(groups.get(cell[key]) ?? []), cell]);
    return [...groups.values()].filter((line) => line.length > 1);
  };
  return [...(sums === "rows" ? [] : by("column")), ...(sums === "columns" ? [] : by("row"))];
}

/** One cell out can be computed; several that add up to little nearly so. */
function isOpen(line: readonly Cell[], out: readonly boolean[][], fewerThan: number): boolean {
  const hidden = line.filter(({ row, column }) => out[row]![column]);
  if (hidden.length === 0 || hidden.length === line.length) return false;
  const sum = hidden.filter(({ total }) => !total).reduce((all, { count }) => all + count, 0);
  return hidden.length === 1 || sum < fewerThan;
}

/** The smallest cell that is still shown: one with children in it, else a total, else a zero. */
function coverFor(line: readonly Cell[], out: readonly boolean[][]): Cell | undefined {
  const rank = ({ total, count }: Cell) => (count === 0 ? 2 : total ? 1 : 0);
  return line
    .filter(({ row, column }) => !out[row]![column])
    .sort((a, b) => rank(a) - rank(b) || a.count - b.count)[0];
}

/**
 * A known line through a cell that follows from the sums: take the cells that are out as edges
 * between their row and their column; an edge on no cycle is determined.
 */
function lineOfBridge(
  counts: Counts,
  out: readonly boolean[][],
  lines: readonly Cell[][],
): Cell[] | undefined {
  for (const line of lines) {
    for (const { row, column } of line) {
      if (!out[row]![column] || !bothKnown(row, column, lines)) continue;
      if (!connected(counts, out, { row, column }) && coverFor(line, out)) return line;
    }
  }
  return undefined;
}

/** Only where row and column sums are both known can several lines work together. */
function bothKnown(row: number, column: number, lines: readonly Cell[][]): boolean {
  const through = lines.filter((line) =>
    line.some((cell) => cell.row === row && cell.column === column),
  );
  return through.length === 2;
}

/** Whether row and column are linked by other cells that are out. */
function connected(
  counts: Counts,
  out: readonly boolean[][],
  edge: { readonly row: number; readonly column: number },
): boolean {
  const seen = new Set([`row ${edge.row}`]);
  const waiting = [`row ${edge.row}`];
  for (let node = waiting.pop(); node !== undefined; node = waiting.pop()) {
    const [kind, index] = node.split(" ") as [string, string];
    const steps =
      kind === "row"
        ? out[Number(index)]!.flatMap((hidden, column) => (hidden ? [[Number(index), column]] : []))
        : out.flatMap((line, row) => (line[Number(index)] ? [[row, Number(index)]] : []));
    for (const [row, column] of steps as [number, number][]) {
      if ((row === edge.row && column === edge.column) || counts[row]![column] === null) continue;
      const next = kind === "row" ? `column ${column}` : `row ${row}`;
      if (next === `column ${edge.column}`) return true;
      if (!seen.has(next)) {
        seen.add(next);
        waiting.push(next);
      }
    }
  }
  return false;
}

function isSmall(count: number | null, fewerThan: number): boolean {
  return count !== null && count > 0 && count < fewerThan;
}
