import { randomBeta, randomGamma } from "d3-random";
import { quantileSorted } from "simple-statistics";
import { createRandom } from "../../inference/index.js";
import {
  type CorrectedMeasure,
  correctedMeasures,
  partOfWhole,
  type RatedCell,
  type RateSums,
} from "./cellRates.js";

export interface DrawSettings {
  readonly seed: number;
  readonly replicates: number;
  readonly level: number;
  /** Added to a cell's size; 0, or 1/2 for Jeffreys. */
  readonly sizePrior: number;
  /** Added to cases and non-cases of a cell's rate. */
  readonly ratePrior: (cell: RatedCell) => readonly [cases: number, others: number];
  /** Rows a child has: counts weigh as many times less. */
  readonly rowsPerChild: number;
}

/** Percentile limits of each measure. */
export type DrawnLimits = { readonly [measure in CorrectedMeasure]: readonly [number, number] };

/**
 * Percentile limits over seeded draws: a cell's size from Gamma(n), its rate from Beta(cases, others)
 * with a little added to each; children who stand for themselves alone from Gamma(count), 0 staying 0.
 */
export function cellDraws(cells: readonly RatedCell[], settings: DrawSettings): DrawnLimits {
  const { seed, replicates, level, sizePrior, ratePrior, rowsPerChild } = settings;
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
    const [a, b] = ratePrior(cell);
    const others = behind.examined - behind.cases;
    return {
      cell,
      size: gamma(n / rowsPerChild + sizePrior),
      rate: beta(behind.cases / rowsPerChild + a, others / rowsPerChild + b),
    };
  });
  const drawn = correctedMeasures.map(() => new Float64Array(replicates));
  for (let draw = 0; draw < replicates; draw++) {
    const sums = drawnSums(samplers);
    correctedMeasures.forEach((measure, at) => {
      const [part, whole] = partOfWhole(sums, measure);
      drawn[at][draw] = part / whole;
    });
  }
  const limits = (measure: CorrectedMeasure) =>
    percentiles(drawn[correctedMeasures.indexOf(measure)], level);
  return {
    sensitivity: limits("sensitivity"),
    specificity: limits("specificity"),
    positivePredictiveValue: limits("positivePredictiveValue"),
    negativePredictiveValue: limits("negativePredictiveValue"),
    prevalence: limits("prevalence"),
    found: limits("found"),
  };
}

type Sampler =
  | { readonly cell: RatedCell; readonly size: () => number; readonly rate: () => number }
  | { readonly cell: RatedCell; readonly withIt: () => number; readonly without: () => number };

function drawnSums(samplers: readonly Sampler[]): RateSums {
  const sums = { truePositive: 0, falsePositive: 0, falseNegative: 0, trueNegative: 0 };
  for (const sampler of samplers) {
    let [cases, others] = [0, 0];
    if ("size" in sampler) {
      const size = sampler.size();
      const rate = sampler.rate();
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
  return sums;
}

/** Quantiles of type 7; a draw of 0 of 0 says nothing. */
function percentiles(values: Float64Array, level: number): [number, number] {
  const sorted = Array.from(values.filter((value) => !Number.isNaN(value)).sort());
  if (sorted.length === 0) return [0, 1];
  return [quantileSorted(sorted, (1 - level) / 2), quantileSorted(sorted, (1 + level) / 2)];
}
