// The grid: which generators, how many children, how many samples; what each interval covered.
import { createRandom } from "../../../src/inference/random.js";
import { drawRows, type Generator, type Shape } from "./generators.js";
import {
  type Measured,
  measureAll,
  measureChosen,
  measureConditional,
  measureRepeats,
  type Truth,
  truthOf,
} from "./measures.js";
import { measureLines, measureVectors } from "./siteMeasures.js";
import { measureVerified } from "./verified.js";
import { measureWeighted } from "./weighted.js";

/** Of children who are not all examined. */
type OfExamined = "verified" | "weighted";

export interface GridCell {
  readonly kind: "all" | "conditional" | "repeats" | "chosen" | "vectors" | "lines" | OfExamined;
  readonly generator: Generator;
  readonly children: number;
  readonly by: "rows" | "subjects" | "clusters";
  readonly samples: number;
}

/** One interval in one cell. */
export interface GridResult {
  readonly interval: string;
  readonly shape: Shape;
  readonly eyes: 1 | 2;
  readonly step: number;
  readonly form: Generator["form"];
  readonly sites: number;
  readonly siteSd?: number;
  readonly drawn?: number;
  readonly children: number;
  readonly by: GridCell["by"];
  /** Intervals that were given. */
  readonly given: number;
  readonly samples: number;
  /** Share of those given that hold the truth. */
  readonly covered: number | null;
  /** Mean of the levels that were printed with them. */
  readonly level: number | null;
}

export const shapes: readonly Shape[] = ["normal", "skewed", "heavy", "gross"];
const base = { shape: "normal", eyes: 1, step: 0.25, form: "level", sites: 0 } as const;

export function gridCells(): GridCell[] {
  const plain = (generator: Partial<Generator>, children: number, samples: number): GridCell => {
    const whole = { ...base, ...generator };
    const by = whole.eyes === 1 ? "rows" : "subjects";
    return { kind: "all", generator: whole, children, by, samples };
  };
  const main = shapes.flatMap((shape) =>
    ([1, 2] as const).flatMap((eyes) =>
      [20, 50, 100, 200, 500, 2000].map((n) =>
        plain({ shape, eyes }, n, n >= 2000 ? 200 : n >= 500 ? 300 : 500),
      ),
    ),
  );
  const steps = shapes.flatMap((shape) =>
    ([0.05, 0.01] as const).flatMap((step) => [50, 200].map((n) => plain({ shape, step }, n, 500))),
  );
  const forms = (["normal", "heavy"] as const).flatMap((shape) =>
    (["trend", "fan", "both"] as const).flatMap((form) =>
      [50, 200, 500].map((n) => plain({ shape, form }, n, 300)),
    ),
  );
  const sites = (["normal", "heavy"] as const).flatMap((shape) =>
    [
      [8, 240],
      [20, 600],
      [40, 600],
    ].flatMap(([count, children]) =>
      (["rows", "clusters"] as const).map(
        (by): GridCell => ({ ...plain({ shape, sites: count }, children, 300), by }),
      ),
    ),
  );
  const conditional = shapes.flatMap((shape) =>
    (["level", "straight", "fan"] as const).flatMap((form) =>
      ([1, 2] as const).flatMap((eyes) =>
        [100, 150, 200, 500, 2000].map(
          (n): GridCell => ({
            ...plain({ shape, form, eyes, step: 0.01 }, n, n >= 2000 ? 400 : 600),
            kind: "conditional",
          }),
        ),
      ),
    ),
  );
  const conditionalSteps = shapes.flatMap((shape) =>
    [200, 500].map((n): GridCell => ({ ...plain({ shape }, n, 600), kind: "conditional" })),
  );
  const conditionalSites = sites.map(
    ({ generator, children, by }): GridCell => ({
      kind: "conditional",
      generator: { ...generator, step: 0.01 },
      children,
      by,
      samples: 400,
    }),
  );
  const repeats = [20, 50, 200, 500].map(
    (n): GridCell => ({ ...plain({}, n, 1000), kind: "repeats" }),
  );
  const chosen = (["normal", "heavy"] as const).flatMap((shape) =>
    [50, 75, 100, 150, 200, 500].map(
      (n): GridCell => ({ ...plain({ shape }, n, 200), kind: "chosen" }),
    ),
  );
  const vectors = sites.map((cell): GridCell => ({ ...cell, kind: "vectors", samples: 200 }));
  const lines = sites
    .filter(({ generator }) => generator.shape === "normal" || generator.sites === 20)
    .map(
      ({ generator, children, by }): GridCell => ({
        kind: "lines",
        generator: { ...generator, step: 0.01 },
        children: Math.min(children, 400),
        by,
        // the intercept with 20 sites came out at .88 of 100 samples: looked at with more
        samples: generator.shape === "normal" && generator.sites === 20 ? 500 : 100,
      }),
    );
  const verified = [
    [8, 800],
    [20, 600],
    [40, 1000],
  ].flatMap(([count, children]) =>
    [0, 0.25].flatMap((siteSd) =>
      [0.1, 0.3].flatMap((drawn) =>
        (["rows", "clusters"] as const).map(
          (by): GridCell => ({
            kind: "verified",
            generator: { ...base, sites: count, siteSd, drawn },
            children,
            by,
            samples: 300,
          }),
        ),
      ),
    ),
  );
  const weighted = verified.map((cell): GridCell => ({ ...cell, kind: "weighted" }));
  return [
    ...main,
    ...steps,
    ...forms,
    ...sites,
    ...repeats,
    ...conditional,
    ...conditionalSteps,
    ...conditionalSites,
    ...chosen,
    ...vectors,
    ...lines,
    ...verified,
    ...weighted,
  ];
}

/** Kinds that draw rows of their own. */
const ownRows = { vectors: measureVectors, verified: measureVerified, weighted: measureWeighted };

/** What tells a cell apart, also in the rows of its results. */
export function cellKey(cell: GridCell | (GridResult & Pick<GridCell, "kind">)): string {
  const { kind, children, by, samples } = cell;
  const { shape, eyes, step, form, sites, siteSd, drawn } =
    "generator" in cell ? cell.generator : cell;
  const own = { shape, eyes, step, form, sites, siteSd, drawn };
  return JSON.stringify({ kind, ...own, children, by, samples });
}

/** How often each interval of a cell held its truth. */
export async function runCell(cell: GridCell, seed: number): Promise<GridResult[]> {
  const { kind, generator, children, by, samples } = cell;
  const tallies = new Map<string, { given: number; held: number; levels: number }>();
  const add = ({ interval, holds, level }: Measured) => {
    const tally = tallies.get(interval) ?? { given: 0, held: 0, levels: 0 };
    tallies.set(interval, tally);
    if (holds === null) return;
    tally.given++;
    tally.held += Number(holds);
    tally.levels += level;
  };
  const withOwnTruth: GridCell["kind"][] = ["repeats", "vectors", "lines", "verified", "weighted"];
  const truth = withOwnTruth.includes(kind) ? null : knownTruth(generator);
  const random = createRandom(seed);
  for (let sample = 0; sample < samples; sample++) {
    random.restart(seed, sample);
    if (kind === "repeats") {
      measureRepeats(children, seed, sample).forEach(add);
      continue;
    }
    if (kind === "vectors" || kind === "verified" || kind === "weighted") {
      ownRows[kind](generator, children, random, by).forEach(add);
      continue;
    }
    const rows = drawRows(generator, children, random);
    if (kind === "lines") {
      measureLines(generator, rows, by).forEach(add);
    } else if (kind === "conditional") {
      measureConditional(generator, rows, truth!, by).forEach(add);
    } else if (kind === "chosen") {
      (await measureChosen(generator, rows, sample)).forEach(add);
    } else if (rows.condition.includes(1) && rows.condition.includes(0)) {
      measureAll(rows, truth!, by).forEach(add);
    }
  }
  return [...tallies].map(([interval, { given, held, levels }]) => ({
    interval,
    ...generator,
    children,
    by,
    given,
    samples,
    covered: given === 0 ? null : rounded(held / given),
    level: given === 0 ? null : rounded(levels / given),
  }));
}

const truths = new Map<string, Truth>();
function knownTruth(generator: Generator): Truth {
  const key = JSON.stringify(generator);
  const known = truths.get(key) ?? truthOf(generator);
  truths.set(key, known);
  return known;
}

const rounded = (share: number) => Number(share.toFixed(4));
