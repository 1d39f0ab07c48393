// Generators that all rooms share: what differences of a reading and a finding look like.
import { createRandom, type Random } from "../../../src/inference/random.js";

/** "gross": normal with 1.5 % errors of 4 to 8 SD; "heavy": Student's t of 4 df; "skewed": chi-square of 4 df. */
export type Shape = "normal" | "skewed" | "heavy" | "gross";

export interface Generator {
  readonly shape: Shape;
  /** Eyes of a child; the errors of two correlate by .5. */
  readonly eyes: 1 | 2;
  /** Readings and findings are in whole steps, dioptres. */
  readonly step: 0.25 | 0.05 | 0.01;
  /**
   * "trend": the bias changes with magnitude; "fan": the spread does, bent where it would come near 0
   * (below -1.5 D); "both"; "straight": the bias and the spread change in straight lines.
   */
  readonly form: "level" | "trend" | "fan" | "both" | "straight";
  /** Sites of equal size, whose readings are shifted by a normal amount; 0: none. */
  readonly sites: number;
  /** SD of that shift, dioptres; 0.25 where left out. */
  readonly siteSd?: number;
  /** Share of passes drawn for the exam, of which the rest is not examined; all where left out. */
  readonly drawn?: number;
}

export interface GridRows {
  readonly test: Float64Array;
  readonly reference: Float64Array;
  readonly subjects: Int32Array;
  readonly site: Int32Array;
  readonly condition: Uint8Array;
}

export const bias = -0.2;
export const sd = 0.6;
export const siteSd = 0.25;
const correlation = 0.5;
/** Refer, and the condition: 2 D and more. */
export const limit = 2;

/** Mean 0, variance 1 (gross errors: of the others). */
export function draw(shape: Shape, random: Random): number {
  if (shape === "normal") return random.normal();
  if (shape === "gross") {
    if (random.uniform() >= 0.015) return random.normal();
    return (random.uniform() < 0.5 ? -1 : 1) * (4 + 4 * random.uniform());
  }
  let square = 0;
  for (let k = 0; k < 4; k++) square += random.normal() ** 2;
  if (shape === "skewed") return (square - 4) / Math.sqrt(8);
  return random.normal() / Math.sqrt(square / 4) / Math.SQRT2;
}

/** Bias and spread at a magnitude. */
export const biasAt = ({ form }: Generator, magnitude: number): number =>
  bias + (form === "trend" || form === "both" || form === "straight" ? 0.15 * (magnitude - 1) : 0);
export function spreadAt({ form }: Generator, magnitude: number): number {
  if (form === "straight") return sd * (1 + 0.1 * (magnitude - 1));
  return form === "fan" || form === "both" ? sd * Math.max(0.3, 0.8 + 0.2 * (magnitude - 1)) : sd;
}

/** One error as an eye has it: of two eyes half the variance is shared. */
export function errorOf({ shape, eyes }: Generator, random: Random): number {
  const own = draw(shape, random);
  return eyes === 1
    ? own
    : Math.sqrt(correlation) * draw(shape, random) + Math.sqrt(1 - correlation) * own;
}

/** Children in order; the mean of both measurements is the magnitude, so that truths by it are exact. */
export function drawRows(generator: Generator, children: number, random: Random): GridRows {
  const { shape, eyes, step, sites } = generator;
  const n = children * eyes;
  const rows = {
    test: new Float64Array(n),
    reference: new Float64Array(n),
    subjects: new Int32Array(n),
    site: new Int32Array(n),
    condition: new Uint8Array(n),
  };
  const shifts = Float64Array.from({ length: sites }, () => siteSd * random.normal());
  const onStep = (value: number) => Math.round(value / step) * step;
  for (let child = 0; child < children; child++) {
    const magnitude = 1 + 1.6 * random.normal();
    const shared = eyes === 2 ? draw(shape, random) : 0;
    const site = sites === 0 ? 0 : Math.floor((child * sites) / children);
    const shift = sites === 0 ? 0 : shifts[site];
    for (let eye = 0; eye < eyes; eye++) {
      const row = child * eyes + eye;
      const own = eyes === 2 ? magnitude + 0.3 * random.normal() : magnitude;
      const error =
        eyes === 2
          ? Math.sqrt(correlation) * shared + Math.sqrt(1 - correlation) * draw(shape, random)
          : draw(shape, random);
      const difference = biasAt(generator, own) + spreadAt(generator, own) * error + shift;
      rows.test[row] = onStep(own + difference / 2);
      rows.reference[row] = onStep(own - difference / 2);
      rows.subjects[row] = child;
      rows.site[row] = site;
      rows.condition[row] = rows.reference[row] >= limit - 1e-9 ? 1 : 0;
    }
  }
  return rows;
}

/** Enough children that the truth's own error is far below an interval's; each in a site of its own. */
export function population(generator: Generator): GridRows {
  const children = 100_000;
  const sites = generator.sites > 0 ? children : 0;
  return drawRows({ ...generator, sites }, children, createRandom(20_261_130, 7));
}
