import { randomBeta, randomGamma } from "d3-random";
import { quantileSorted } from "simple-statistics";
import { createRandom } from "../../inference/index.js";
import { partOfWhole, type RatedCell, type RateMeasure, type RateSums } from "./cellRates.js";

export interface DrawSettings {
  readonly seed: number;
  readonly replicates: number;
  readonly level: number;
  /** Added to a cell's size; 0, or 1/2 for Jeffreys. */
  readonly sizePrior: number;
  /** "jeffreys": 1/2 added to cases and others of a cell's rate. Else mid-p: the chance by which the one child added is a case. */
  readonly rates: "jeffreys" | ((cell: RatedCell) => number);
  /** Rows a child has: counts weigh as many times less. */
  readonly rowsPerChild: number;
  /** How many times as far from the draws' mean, in log odds, the limits of a measure lie; 1 by default. */
  readonly wider?: (measure: RateMeasure) => number;
}

/** Percentile limits of each measure. */
export type DrawnLimits<Measure extends RateMeasure> = {
  readonly [measure in Measure]: readonly [number, number];
};

/**
 * Percentile limits over seeded draws: a cell's size from Gamma(n), its rate from Beta(cases, others + 1) or
 * Beta(cases + 1, others), which are the two ends of Clopper and Pearson's interval, by equal chances (mid-p);
 * children who stand for themselves alone from Gamma(count), 0 staying 0. A cell whose rate nobody can say
 * leaves it open: limits hold with all and with none of its children having the condition.
 */
export function cellDraws<Measure extends RateMeasure>(
  cells: readonly RatedCell[],
  settings: DrawSettings,
  measures: readonly Measure[],
): DrawnLimits<Measure> {
  const { seed, replicates, level, sizePrior, rates, rowsPerChild, wider = () => 1 } = settings;
  const { uniform } = createRandom(seed);
  const gamma = randomGamma.source(uniform);
  const beta = randomBeta.source(uniform);
  const samplers = cells.map((cell): Sampler => {
    const { n, own, cases, examined, behind } = cell;
    if (own) {
      return {
        cell,
        withIt: gamma(cases / rowsPerChild),
        without: gamma((examined - cases) / rowsPerChild),
      };
    }
    const withIt = behind.cases / rowsPerChild;
    const others = (behind.examined - behind.cases) / rowsPerChild;
    const size = gamma(n / rowsPerChild + sizePrior);
    if (rates === "jeffreys") return { cell, size, rate: beta(withIt + 0.5, others + 0.5) };
    const chance = rates(cell);
    const [more, fewer] = [beta(withIt + 1, others), beta(withIt, others + 1)];
    return { cell, size, rate: () => (uniform() < chance ? more() : fewer()) };
  });
  const lowest = measures.map(() => new Float64Array(replicates));
  const highest = measures.map((_, at) =>
    cells.some(({ blind }) => blind) ? new Float64Array(replicates) : lowest[at],
  );
  for (let draw = 0; draw < replicates; draw++) {
    const every = drawnSums(samplers);
    for (let at = 0; at < measures.length; at++) {
      let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
      for (const sums of every) {
        const [part, whole] = partOfWhole(sums, measures[at]);
        low = Math.min(low, part / whole);
        high = Math.max(high, part / whole);
      }
      highest[at][draw] = high;
      lowest[at][draw] = low;
    }
  }
  const limits = (measure: Measure, at: number): [number, number] => {
    const low = sortedDraws(lowest[at]);
    const high = highest[at] === lowest[at] ? low : sortedDraws(highest[at]);
    const times = wider(measure);
    return [
      fartherOut(percentile(low, (1 - level) / 2, 0), low, times),
      fartherOut(percentile(high, (1 + level) / 2, 1), high, times),
    ];
  };
  return Object.fromEntries(measures.map((measure, at) => [measure, limits(measure, at)])) as {
    [measure in Measure]: [number, number];
  };
}

type Sampler =
  | { readonly cell: RatedCell; readonly size: () => number; readonly rate: () => number }
  | { readonly cell: RatedCell; readonly withIt: () => number; readonly without: () => number };

/**
 * The sums of one draw; several where nobody of a cell was examined and it is too large to borrow a rate:
 * on either side of the rule, with all of its children and with none of them having the condition.
 */
function drawnSums(samplers: readonly Sampler[]): RateSums[] {
  const sums = { truePositive: 0, falsePositive: 0, falseNegative: 0, trueNegative: 0 };
  const unknown = { refer: 0, pass: 0 };
  for (const sampler of samplers) {
    let [cases, others] = [0, 0];
    if ("size" in sampler) {
      const size = sampler.size();
      const rate = sampler.rate();
      if (sampler.cell.blind) {
        unknown[sampler.cell.studied] += size;
        continue;
      }
      cases = size * rate;
      others = size * (1 - rate);
    } else {
      cases = sampler.withIt();
      others = sampler.without();
    }
    const refers = sampler.cell.studied === "refer";
    sums[refers ? "truePositive" : "falseNegative"] += cases;
    sums[refers ? "falsePositive" : "trueNegative"] += others;
  }
  const ends = (size: number) => (size === 0 ? [0] : [0, size]);
  return ends(unknown.refer).flatMap((referred) =>
    ends(unknown.pass).map((passed) => ({
      truePositive: sums.truePositive + referred,
      falsePositive: sums.falsePositive + unknown.refer - referred,
      falseNegative: sums.falseNegative + passed,
      trueNegative: sums.trueNegative + unknown.pass - passed,
    })),
  );
}

/** In order; a draw of 0 of 0 says nothing. */
const sortedDraws = (values: Float64Array): number[] =>
  Array.from(values.filter((value) => !Number.isNaN(value)).sort());

/** Quantile of type 7; no draw at all leaves the end of the scale. */
const percentile = (sorted: number[], share: number, end: 0 | 1): number =>
  sorted.length === 0 ? end : quantileSorted(sorted, share);

/** A limit moved away from the mean of its draws in log odds; an end of the scale stays. */
function fartherOut(limit: number, draws: readonly number[], times: number): number {
  if (times === 1) return limit;
  const centre = logit(draws.reduce((sum, one) => sum + one, 0) / draws.length);
  const distance = logit(limit) - centre;
  return Number.isFinite(distance) ? 1 / (1 + Math.exp(-centre - times * distance)) : limit;
}

const logit = (share: number): number => Math.log(share / (1 - share));
