import { createRandom } from "../../src/inference/index.js";
import type { TableModel } from "../../src/results/index.js";
import { studyReport } from "../../src/study/index.js";
import { bands, coarseResult, type InventedChild, type InventedCondition } from "./coarseResult.js";
import { fits, type Puzzle } from "./integerTables.js";

/** A random invented cohort of one age, size and rarity, and one or two conditions. */
export function inventedCohort(seed: number): {
  readonly children: readonly InventedChild[];
  readonly conditions: readonly InventedCondition[];
} {
  const { uniform, normal } = createRandom(seed);
  const n = Math.round(30 * 100 ** uniform());
  const sites = 1 + Math.floor(6 * uniform() ** 2);
  const spread = 0.3 + uniform();
  const lost = 0.2 * uniform() ** 3;
  const unsure = 0.1 * uniform() ** 3;
  const rare = 1 + 1.5 * uniform();
  const children = Array.from({ length: n }, (): InventedChild => {
    const exam = Math.round(4 * normal()) / 4;
    const at = uniform();
    return {
      end:
        at < lost / 3
          ? "before"
          : at < lost
            ? "unexamined"
            : at < lost + unsure
              ? "undecided"
              : "compared",
      exam,
      value: Math.round(4 * (exam + spread * normal())) / 4,
      band: Math.min(3, Math.floor(bands.length * uniform() ** 1.5)),
      site: `site ${Math.floor(sites * uniform() ** 2)}`,
    };
  });
  const first = {
    refer: Math.round(4 * (rare - 0.5 * uniform())) / 4,
    target: Math.round(4 * rare) / 4,
  };
  const second = {
    refer: first.refer - 0.5,
    target: first.target - 0.25 - 0.25 * Math.floor(4 * uniform()),
  };
  return { children, conditions: uniform() < 0.5 ? [first] : [first, second] };
}

/** Counts that a printed one stands for, by the sentence: 0 to 10, 11 to 17, else the nearest 5. */
function meant(cell: unknown): [number, number] {
  const words = String(cell).replaceAll(",", "");
  const range = /^(\d+) to (\d+)$/.exec(words);
  if (range) return [Number(range[1]), Number(range[2])];
  if (words === "fewer than 11") return [0, 10];
  const reads = Number(words);
  return reads === 15 ? [11, 17] : [reads - 2, reads + 2];
}

/** What an attacker reads in the report: ranges of counts, and which add up to which. */
export function puzzlesOf(result: ReturnType<typeof coarseResult>): {
  readonly whole: Puzzle;
  /** Limits on one variable are nested: the children between two of them. */
  readonly nested: ReadonlyMap<string, Puzzle>;
} {
  const tables = studyReport(result).sections.flatMap(({ blocks }) =>
    blocks.filter((block): block is TableModel => block.kind === "table"),
  );
  const puzzle: Puzzle = { ranges: new Map(), sums: [] };
  const see = (name: string, cell: unknown) => {
    puzzle.ranges.set(name, meant(cell));
  };
  const makeUp = (whole: string, parts: readonly string[]) => {
    puzzle.sums.push([[whole, -1], ...parts.map((part) => [part, 1] as const)]);
  };
  const flow = tables.find(({ title }) => title === "Participants")!;
  const shown = flow.rows.map(({ cells }) => cells[1]);
  const apart = ["before", "unexamined", "undecided"];
  for (const [at, name] of apart.entries()) see(name, shown[at + 1]);
  see("all", shown[0]);
  see("compared", shown.at(-1));
  makeUp("all", [...apart, "compared"]);
  const names = ["tp", "fp", "fn", "tn"];
  result.conditions.forEach(({ title }, at) => {
    const counts = tables.find((table) => table.title === `Counts: ${title}`);
    if (counts === undefined) return;
    const [referred, passed] = counts.rows.map(({ cells }) => cells.slice(1, 3));
    for (const [place, cell] of [...referred!, ...passed!].entries()) {
      see(`${at} ${names[place]}`, cell);
    }
    makeUp(
      "compared",
      names.map((name) => `${at} ${name}`),
    );
    tables
      .filter((table) => /^By /.test(table.title) && table.title.endsWith(`: ${title}`))
      .forEach((table, grouping) => {
        names.forEach((name, place) => {
          if (table.rows.some(({ cells }) => cells[place + 1] === "not shown")) return;
          const parts = table.rows.map(({ cells }, group) => {
            see(`${at} ${grouping} ${group} ${name}`, cells[place + 1]);
            return `${at} ${grouping} ${group} ${name}`;
          });
          makeUp(`${at} ${name}`, parts);
        });
      });
    const stops = tables.find((table) => table.title === `Other limits: ${title}`);
    if (stops === undefined) return;
    const fixed = stops.rows.findIndex(({ cells }) =>
      String(cells[0]).includes("fixed in advance"),
    );
    for (const [kind, column, sides] of [
      ["with", 1, ["tp", "fn"]],
      ["without", 2, ["fp", "tn"]],
    ] as const) {
      // sums of bands from either end: each band is the difference of two of them, end by end
      const beyond = stops.rows.map(({ cells }) => meant(cells[column]));
      const within = stops.rows.map(({ cells }) => meant(cells[column + 2]));
      const list = [
        ...beyond.map((range, stop) =>
          stop === 0 ? range : range.map((end, side) => end - beyond[stop - 1]![side]!),
        ),
        within.at(-1)!,
      ];
      for (const [band, range] of list.entries()) {
        puzzle.ranges.set(`${at} band ${band} ${kind}`, range as [number, number]);
      }
      const bandNames = list.map((_, band) => `${at} band ${band} ${kind}`);
      makeUp(`${at} ${sides[0]}`, bandNames.slice(0, fixed + 1));
      makeUp(`${at} ${sides[1]}`, bandNames.slice(fixed + 1));
    }
  });
  const said =
    /the \d+ counts of fewer than 11 among the rows( and those left out)?: (\d+ to \d+)/g;
  for (const [, isAll, range] of flow.notes.join(" ").matchAll(said)) {
    const rows = names.map((name) => `0 ${name}`);
    const own = isAll === undefined ? rows : [...rows, ...apart];
    const name = `together${isAll ?? ""}`;
    see(name, range);
    makeUp(
      name,
      own.filter((one) => puzzle.ranges.get(one)![0] === 0),
    );
  }
  const nested = new Map<string, Puzzle>();
  if (puzzle.ranges.has("1 tp")) {
    for (const [name, beyond, within] of [
      ["between exams", ["tp", "fn"], ["fp", "tn"]],
      ["between readings", ["tp", "fp"], ["fn", "tn"]],
    ] as const) {
      const own: Puzzle = { ranges: new Map(puzzle.ranges), sums: [] };
      own.ranges.set("between", [0, 5000]);
      for (const at of [0, 1]) {
        for (const [kind, cells] of Object.entries({ beyond, within })) {
          own.ranges.set(`${at} ${kind}`, [0, 5000]);
          own.sums.push([
            [`${at} ${kind}`, -1],
            ...cells.map((cell) => [`${at} ${cell}`, 1] as const),
          ]);
        }
      }
      own.sums.push([
        ["1 beyond", -1],
        ["between", 1],
        ["0 beyond", 1],
      ]);
      own.sums.push([
        ["0 within", -1],
        ["between", 1],
        ["1 within", 1],
      ]);
      nested.set(name, own);
    }
  }
  return { whole: puzzle, nested };
}

export interface Attack {
  readonly tried: number;
  /** Small counts that do not keep 0 and 10, by what they are. */
  readonly disclosed: readonly string[];
  readonly children: number;
}

/** Every small count of one invented cohort, attacked through its printed report. */
export function attack(seed: number): Attack {
  const { children, conditions } = inventedCohort(seed);
  const { whole, nested } = puzzlesOf(coarseResult(children, conditions));
  const compared = children.filter(({ end }) => end === "compared");
  const [first, second] = conditions;
  const countOf: { readonly [name: string]: (one: InventedChild) => boolean } = {
    "between exams": ({ exam }) => exam >= second!.target && exam < first!.target,
    "between readings": ({ value }) => value >= second!.refer && value < first!.refer,
  };
  const cells = [...whole.ranges]
    .filter(([, [low, high]]) => low === 0 && high === 10)
    .map(([name]) => ({ name, in: whole, count: name }));
  const between = [...nested]
    .filter(([name]) => compared.filter(countOf[name]!).length <= 10)
    .map(([name, puzzle]) => ({ name, in: puzzle, count: "between" }));
  const small = [...cells, ...between];
  return {
    tried: small.length,
    disclosed: small
      .filter(({ in: puzzle, count }) => !fits(puzzle, count, 0) || !fits(puzzle, count, 10))
      .map(({ name }) => name),
    children: compared.length,
  };
}
