import { choleskyInverse } from "../../agreement/index.js";
import { normalCdf, normalQuantile, requireLevel } from "../../inference/index.js";
import {
  type Estimate,
  type ForAudience,
  InputError,
  type Undefined,
  undefinedBecause,
} from "../../results/index.js";
import type { PositiveWhen, YesNoColumn } from "../../rows/index.js";
import { countByValue } from "../countByValue.js";
import { requireBothClasses } from "../rocCurve.js";
import { type BinormalParameters, binormalLikelihood } from "./binormalLikelihood.js";

/** A smooth curve: sensitivity = Phi(a + b Phi^-1(false-positive rate)). */
export interface BinormalCurve {
  readonly kind: "binormal-curve";
  readonly n: number;
  readonly categories: number;
  readonly a: Estimate;
  readonly b: Estimate;
  readonly area: Estimate;
  /** Boundaries between categories in SDs of those without the condition, ascending in suspicion. */
  readonly boundaries: readonly number[];
  readonly logLikelihood: number;
  readonly iterations: number;
  readonly level: number;
  readonly method: string;
}

const mostCategories = 60;
const mostIterations = 200;

/**
 * Binormal curve of ordinal categories by maximum likelihood (Dorfman and Alf 1969): a hidden normal
 * variable in each class, cut at common boundaries. Fisher scoring; standard errors from the
 * observed information; the area is Phi(a / sqrt(1 + b²)), its error by the delta method.
 * Rows are taken as independent.
 *
 * Undefined when the likelihood has no maximum (a class that leaves boundaries free, complete
 * separation) or the iteration does not settle.
 *
 * An area is a proportion, 0 to 1.
 *
 * @throws when there are fewer than 3 or more than 60 distinct values: group them first
 *
 * @example
 * binormalCurve({ values: [1, 1, 2, 2, 3, 3, 1, 2, 3, 3], condition: [0, 0, 0, 0, 0, 1, 1, 1, 1, 1] }, { positiveWhen: "high" }).area.value // => 0.7329
 */
export function binormalCurve(
  data: { readonly values: ArrayLike<number>; readonly condition: YesNoColumn } & ForAudience,
  options: { readonly positiveWhen: PositiveWhen; readonly level?: number },
): BinormalCurve | Undefined {
  const caller = "binormalCurve";
  const level = requireLevel(caller, options?.level ?? 0.95);
  const counts = countByValue(caller, data, options?.positiveWhen);
  requireBothClasses(caller, counts);
  const categories = counts.values.length;
  if (categories < 3 || categories > mostCategories) {
    throw new InputError(
      `${caller} requires 3 to ${mostCategories} distinct values, got ${categories}`,
    );
  }
  // least suspicious category first
  const cases = Array.from(counts.withCondition).reverse();
  const controls = Array.from(counts.withoutCondition).reverse();
  const fitted = maximise(cases, controls);
  if (typeof fitted === "string") return undefinedBecause(fitted);
  const { parameters, inverse, logLikelihood, iterations } = fitted;
  const { a, b, boundaries } = parameters;
  const scale = Math.sqrt(1 + b * b);
  const density = Math.exp((-0.5 * a * a) / (1 + b * b)) / Math.sqrt(2 * Math.PI);
  const [da, db] = [density / scale, (-density * a * b) / scale ** 3];
  const [[va, cov], [, vb]] = inverse;
  const z = normalQuantile((1 + level) / 2);
  const estimate = (value: number, se: number): Estimate => ({
    kind: "estimate",
    value,
    low: value - z * se,
    high: value + z * se,
    level,
    method: "maximum likelihood",
    se,
  });
  const area = normalCdf(a / scale);
  const areaSe = Math.sqrt(da * da * va + db * db * vb + 2 * da * db * cov);
  const ratio = estimate(a / scale, areaSe / density);
  return {
    kind: "binormal-curve",
    n: counts.n,
    categories,
    a: estimate(a, Math.sqrt(va)),
    b: estimate(b, Math.sqrt(vb)),
    area: {
      ...estimate(area, areaSe),
      low: normalCdf(ratio.low),
      high: normalCdf(ratio.high),
      method: "maximum likelihood, normal scale",
    },
    boundaries,
    logLikelihood,
    iterations,
    level,
    method: "maximum likelihood",
  };
}

interface Fit {
  readonly parameters: BinormalParameters;
  readonly inverse: number[][];
  readonly logLikelihood: number;
  readonly iterations: number;
}

function maximise(cases: readonly number[], controls: readonly number[]): Fit | string {
  let parameters = start(cases, controls);
  let current = binormalLikelihood(parameters, cases, controls);
  for (let iteration = 1; iteration <= mostIterations; iteration++) {
    const inverse = choleskyInverse(current.information);
    if (inverse === null) return "the likelihood is flat: categories are empty or separated";
    const step = inverse.map((row) =>
      row.reduce((sum, cell, j) => sum + cell * current.score[j], 0),
    );
    const largest = Math.max(...step.map(Math.abs));
    if (largest < 1e-10) {
      if (parameters.b < 1e-3 || parameters.b > 1e3) {
        return "the likelihood has its maximum at the edge";
      }
      const observed = choleskyInverse(observedInformation(parameters, cases, controls));
      if (observed === null) return "the likelihood is flat: categories are empty or separated";
      const { logLikelihood } = current;
      return { parameters, inverse: observed, logLikelihood, iterations: iteration };
    }
    let share = Math.min(1, 2 / largest);
    let next = moved(parameters, step, share);
    let value = binormalLikelihood(next, cases, controls);
    while (!(value.logLikelihood >= current.logLikelihood - 1e-12) && share > 1e-8) {
      share /= 2;
      next = moved(parameters, step, share);
      value = binormalLikelihood(next, cases, controls);
    }
    parameters = next;
    current = value;
  }
  return `no maximum was found in ${mostIterations} steps`;
}

function moved(
  from: BinormalParameters,
  step: readonly number[],
  share: number,
): BinormalParameters {
  return {
    a: from.a + share * step[0],
    b: from.b + share * step[1],
    boundaries: from.boundaries.map((boundary, k) => boundary + share * step[k + 2]),
  };
}

/** Minus the second derivatives, from differences of the score. */
function observedInformation(
  at: BinormalParameters,
  cases: readonly number[],
  controls: readonly number[],
): number[][] {
  const size = at.boundaries.length + 2;
  const width = 1e-5;
  const rows = Array.from({ length: size }, (_, i) => {
    const unit = Array.from({ length: size }, (_value, j) => (i === j ? 1 : 0));
    const above = binormalLikelihood(moved(at, unit, width), cases, controls).score;
    const below = binormalLikelihood(moved(at, unit, -width), cases, controls).score;
    return above.map((value, j) => (below[j] - value) / (2 * width));
  });
  return rows.map((row, i) => row.map((cell, j) => (cell + rows[j][i]) / 2));
}

/** Boundaries from the class without the condition; a and b from a line through both classes. */
function start(cases: readonly number[], controls: readonly number[]): BinormalParameters {
  const quantiles = (counts: readonly number[]) => {
    const total = counts.reduce((sum, count) => sum + count, 0);
    let below = 0;
    return counts.slice(0, -1).map((count, k) => {
      below += count;
      return normalQuantile((below + 0.5 * ((k + 1) / counts.length)) / (total + 0.5));
    });
  };
  const x = quantiles(controls);
  const y = quantiles(cases);
  const mean = (list: number[]) => list.reduce((sum, value) => sum + value, 0) / list.length;
  const [mx, my] = [mean(x), mean(y)];
  const sxx = x.reduce((sum, value) => sum + (value - mx) ** 2, 0);
  const sxy = x.reduce((sum, value, k) => sum + (value - mx) * (y[k] - my), 0);
  const b = Math.min(3, Math.max(0.3, sxx > 0 ? sxy / sxx : 1));
  return { a: b * mx - my, b, boundaries: x };
}
