/** A count with its range, and sums that are 0 with whole coefficients. */
export interface Puzzle {
  readonly ranges: Map<string, [number, number]>;
  readonly sums: (readonly (readonly [name: string, times: number])[])[];
}

/**
 * Whether whole numbers in the ranges fit all sums, with one count fixed: by halving ranges and
 * narrowing each sum until every count is a single number. Exact for any system, tree or not.
 */
export function fits(puzzle: Puzzle, fixed: string, value: number): boolean {
  const ranges = new Map([...puzzle.ranges].map(([name, range]) => [name, [...range]]));
  const own = ranges.get(fixed)!;
  if (value < own[0]! || value > own[1]!) return false;
  ranges.set(fixed, [value, value]);
  return search(ranges, puzzle.sums, { left: 20000 });
}

function search(
  ranges: Map<string, number[]>,
  sums: Puzzle["sums"],
  budget: { left: number },
): boolean {
  if (budget.left-- < 0) throw new Error("too many steps");
  for (let moved = true; moved; ) {
    moved = false;
    for (const sum of sums) {
      // what all terms leave, and then what the other terms leave for each
      let [allLeast, allMost] = [0, 0];
      for (const [name, by] of sum) {
        const [low, high] = ranges.get(name)!;
        allLeast += Math.min(by * low!, by * high!);
        allMost += Math.max(by * low!, by * high!);
      }
      for (const [name, times] of sum) {
        const own = ranges.get(name)!;
        const before = [Math.min(times * own[0]!, times * own[1]!)];
        before.push(Math.max(times * own[0]!, times * own[1]!));
        const [least, most] = [allLeast - before[0]!, allMost - before[1]!];
        const range = ranges.get(name)!;
        const ends = [-most / times, -least / times].sort((one, two) => one - two);
        const low = Math.max(range[0]!, Math.ceil(ends[0]!));
        const high = Math.min(range[1]!, Math.floor(ends[1]!));
        if (low > high) return false;
        if (low !== range[0] || high !== range[1]) {
          ranges.set(name, [low, high]);
          allLeast = least + Math.min(times * low, times * high);
          allMost = most + Math.max(times * low, times * high);
          moved = true;
        }
      }
    }
  }
  const width = ([, [low, high]]: [string, number[]]) => high! - low!;
  const [open] = [...ranges]
    .filter((one) => width(one) > 0)
    .sort((one, two) => width(one) - width(two));
  if (open === undefined) {
    return sums.every(
      (sum) => sum.reduce((all, [name, times]) => all + times * ranges.get(name)![0]!, 0) === 0,
    );
  }
  const [name, [low, high]] = open;
  const middle = Math.floor((low! + high!) / 2);
  return [
    [low!, middle],
    [middle + 1, high!],
  ].some((half) =>
    search(
      new Map([...ranges].map(([key, range]) => [key, key === name ? half : [...range]])),
      sums,
      budget,
    ),
  );
}
