import { normalCdf, normalQuantile } from "../../../src/inference/distributions.js";
import { createRandom, type Random } from "../../../src/inference/random.js";
import { type AreaOptions, areaUnderCurve } from "../../../src/thresholds/index.js";

export type AreaMethod =
  | "delong-logit-t"
  | "delong-logit"
  | "delong-plain"
  | "hanley-mcneil-logit"
  | "bootstrap";

export interface AreaStudy {
  /** Area of the values without steps. */
  readonly area: number;
  /** Rows with and without the condition; of paired eyes: their expected numbers. */
  readonly cases: number;
  readonly controls: number;
  /** One eye a child, or two with correlated values and conditions. */
  readonly eyes: "one" | "paired";
  /** "as-independent" leaves the children of paired eyes out. */
  readonly method: AreaMethod | "as-independent";
  /** Values are rounded to it; 0 leaves them. */
  readonly step: number;
}

export interface AreaStudyResult extends AreaStudy {
  readonly replicates: number;
  /** True area, ties counted one half. */
  readonly truth: number;
  /** Samples in which an interval exists. */
  readonly estimable: number;
  readonly coverage: number;
  /** Share of samples with an area of exactly 1. */
  readonly separated: number;
  readonly meanWidth: number;
}

/** Coverage of the 95 % interval: two normal distributions of SD 1, a distance apart. */
export function areaCoverage(study: AreaStudy, replicates: number, seed: number): AreaStudyResult {
  const distance = Math.SQRT2 * normalQuantile(study.area);
  const truth = study.step === 0 ? study.area : steppedArea(distance, study.step);
  const random = createRandom(seed);
  let covered = 0;
  let estimable = 0;
  let separated = 0;
  let width = 0;
  for (let replicate = 0; replicate < replicates; replicate++) {
    random.restart(seed, replicate);
    const sample =
      study.eyes === "one" ? oneEye(study, distance, random) : pairs(study, distance, random);
    const { subjects, ...rows } = sample;
    const found = areaUnderCurve(
      study.method === "as-independent" || subjects === undefined ? rows : { ...rows, subjects },
      optionsOf(study.method, replicate),
    );
    if (found.kind === "undefined") continue;
    estimable++;
    if (found.low <= truth && truth <= found.high) covered++;
    if (found.value === 1) separated++;
    width += found.high - found.low;
  }
  return {
    ...study,
    replicates,
    truth: rounded(truth, 6),
    estimable,
    coverage: rounded(covered / estimable, 4),
    separated: rounded(separated / estimable, 4),
    meanWidth: rounded(width / estimable, 4),
  };
}

function optionsOf(method: AreaStudy["method"], seed: number): AreaOptions {
  const options = { positiveWhen: "high" } as const;
  if (method === "delong-logit") return { ...options, interval: "logit-normal" };
  if (method === "delong-plain") return { ...options, interval: "plain" };
  if (method === "hanley-mcneil-logit") return { ...options, variance: "hanley-mcneil" };
  if (method === "bootstrap") return { ...options, interval: "bootstrap", seed, replicates: 400 };
  return options;
}

type SampleSize = Pick<AreaStudy, "cases" | "controls" | "step">;

/** Rows of two normal distributions of SD 1, a distance apart. */
export function oneEye({ cases, controls, step }: SampleSize, distance: number, random: Random) {
  const condition = Array.from({ length: cases + controls }, (_, row) => row < cases);
  const values = condition.map((yes) => onGrid(random.normal() + (yes ? distance : 0), step));
  return { values, condition, subjects: undefined };
}

/** Values of two eyes correlate by .7 beside the condition, which the second eye shares at .8. */
export function pairs({ cases, controls, step }: SampleSize, distance: number, random: Random) {
  const children = Math.round((cases + controls) / 2);
  const prevalence = cases / (cases + controls);
  const values: number[] = [];
  const condition: boolean[] = [];
  const subjects: number[] = [];
  for (let child = 0; child < children; child++) {
    const first = random.uniform() < prevalence;
    const second = random.uniform() < 0.8 ? first : random.uniform() < prevalence;
    const common = Math.sqrt(0.7) * random.normal();
    for (const yes of [first, second]) {
      const noise = common + Math.sqrt(0.3) * random.normal();
      values.push(onGrid(noise + (yes ? distance : 0), step));
      condition.push(yes);
      subjects.push(child);
    }
  }
  return { values, condition, subjects };
}

const onGrid = (value: number, step: number) =>
  step === 0 ? value : Math.round(value / step) * step;

/** Area of two normal distributions rounded to steps, by summing over the grid. */
export function steppedArea(distance: number, step: number): number {
  let below = 0;
  let area = 0;
  for (let k = Math.floor(-9 / step); k * step < 9 + distance; k++) {
    const [from, to] = [(k - 0.5) * step, (k + 0.5) * step];
    const control = normalCdf(to) - normalCdf(from);
    const other = normalCdf(to - distance) - normalCdf(from - distance);
    area += other * (below + control / 2);
    below += control;
  }
  return area;
}

const rounded = (value: number, digits: number) => Number(value.toFixed(digits));

/** The grid of the long study. */
export function allAreaStudies(): AreaStudy[] {
  const sizes = [
    [10, 40],
    [20, 200],
    [50, 50],
    [100, 400],
  ];
  const one = [0.7, 0.9, 0.95, 0.98].flatMap((area) =>
    sizes.flatMap(([cases, controls]) =>
      (
        [
          "delong-logit-t",
          "delong-logit",
          "delong-plain",
          "hanley-mcneil-logit",
          "bootstrap",
        ] as const
      ).map((method): AreaStudy => ({ area, cases, controls, eyes: "one", method, step: 0.25 })),
    ),
  );
  const paired = [0.7, 0.9, 0.97].flatMap((area) =>
    [
      [20, 80],
      [50, 150],
      [100, 400],
    ].flatMap(([cases, controls]) =>
      (["delong-logit-t", "as-independent", "bootstrap"] as const).map(
        (method): AreaStudy => ({ area, cases, controls, eyes: "paired", method, step: 0.25 }),
      ),
    ),
  );
  return [...one, ...paired];
}
