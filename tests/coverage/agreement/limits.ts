import { limitsOfAgreement } from "../../../src/agreement/index.js";
import { createRandom, type Random } from "../../../src/inference/random.js";

export type Shape = "normal" | "skewed" | "t4";
export type Eyes = "one" | "paired";

export interface Study {
  /** Children. */
  readonly n: number;
  readonly shape: Shape;
  /** One eye a child, or two whose differences correlate by .53. */
  readonly eyes: Eyes;
  /** "exact-pair" asks for the pair of limits; "as-independent" gives no subjects. */
  readonly interval:
    | "exact"
    | "exact-pair"
    | "as-independent"
    | "approximate"
    | "mover"
    | "bootstrap";
}

export interface StudyResult extends Study {
  readonly replicates: number;
  readonly bias: number;
  readonly sd: number;
  /** Mean of the coverage of the lower and of the upper limit. */
  readonly limit: number;
  readonly lower: number;
  readonly upper: number;
  /** Both limits at once. */
  readonly both: number;
}

const multiplier = 1.959963984540054;
const correlation = 0.53;

/** Coverage of 95 % intervals of the limits mean ± 1.96 SD of the whole population. */
export function limitCoverage(study: Study, replicates: number, seed: number): StudyResult {
  const { n, shape, eyes, interval } = study;
  const random = createRandom(seed);
  const perChild = eyes === "paired" ? 2 : 1;
  const reference = new Float64Array(n * perChild);
  const subjects = Array.from(reference, (_, row) => Math.floor(row / perChild));
  const test = new Float64Array(n * perChild);
  const covered = { bias: 0, sd: 0, lower: 0, upper: 0, both: 0 };
  for (let replicate = 0; replicate < replicates; replicate++) {
    random.restart(seed, replicate);
    for (let child = 0; child < n; child++) {
      if (perChild === 1) {
        test[child] = draw(shape, random);
      } else {
        const shared = Math.sqrt(correlation) * draw(shape, random);
        for (const eye of [0, 1]) {
          test[2 * child + eye] = shared + Math.sqrt(1 - correlation) * draw(shape, random);
        }
      }
    }
    const plain = interval === "as-independent" || interval === "exact-pair";
    const r = limitsOfAgreement(
      { test, reference, ...(plain || perChild === 1 ? {} : { subjects }) },
      {
        multiplier,
        interval: plain ? "exact" : interval,
        intervalFor: interval === "exact-pair" ? "pair" : "each",
        normality: "skip",
        replicates: 400,
        seed: replicate,
      },
    );
    const holds = ({ low, high }: { low: number; high: number }, truth: number) =>
      low <= truth && truth <= high;
    const lower = holds(r.lower, -multiplier);
    const upper = holds(r.upper, multiplier);
    covered.bias += Number(holds(r.bias, 0));
    covered.sd += Number(holds(r.sd, 1));
    covered.lower += Number(lower);
    covered.upper += Number(upper);
    covered.both += Number(lower && upper);
  }
  const share = (count: number) => count / replicates;
  return {
    ...study,
    replicates,
    bias: share(covered.bias),
    sd: share(covered.sd),
    limit: share((covered.lower + covered.upper) / 2),
    lower: share(covered.lower),
    upper: share(covered.upper),
    both: share(covered.both),
  };
}

/** Mean 0, variance 1: normal, chi-square of 4 df (skewness 1.41), or Student's t of 4 df. */
function draw(shape: Shape, random: Random): number {
  if (shape === "normal") return random.normal();
  let square = 0;
  for (let k = 0; k < 4; k++) square += random.normal() ** 2;
  if (shape === "skewed") return (square - 4) / Math.sqrt(8);
  return random.normal() / Math.sqrt(square / 4) / Math.SQRT2;
}

export const sizes = [10, 20, 50, 200];
export const shapes: readonly Shape[] = ["normal", "skewed", "t4"];

/** Every cell of the long study. */
export function allStudies(): Study[] {
  const cell = (eyes: Eyes, interval: Study["interval"]) =>
    shapes.flatMap((shape) => sizes.map((n): Study => ({ n, shape, eyes, interval })));
  return [
    ...cell("one", "exact"),
    ...cell("one", "exact-pair"),
    ...cell("one", "approximate"),
    ...cell("one", "bootstrap"),
    ...cell("paired", "mover"),
    ...cell("paired", "approximate"),
    ...cell("paired", "bootstrap"),
    ...cell("paired", "as-independent"),
  ];
}
