import { quantileSorted } from "simple-statistics";
import { createRandom, sortNumbers } from "../../inference/index.js";
import { type Estimate, type Undefined, undefinedBecause } from "../../results/index.js";
import { type Clusters, rowsByCluster } from "../../rows/index.js";

/** A straight line. */
export interface Line {
  readonly intercept: number;
  readonly slope: number;
}

/** Bias line, spread line and the quantiles of residuals over the spread: all that limits are made of. */
export interface ConditionalFit {
  readonly bias: Line;
  /** Mean absolute residual. */
  readonly spread: Line;
  readonly quantiles: readonly [number, number];
  /** Rows where the fitted spread is not positive: in the lines, but in no quantile. */
  readonly withoutSpread: number;
}

export interface ConditionalPoint {
  readonly at: number;
  readonly bias: Estimate;
  readonly lower: Estimate | Undefined;
  readonly upper: Estimate | Undefined;
}

/** Limits over the whole range at once: their band holds everywhere at the level. */
export interface ConditionalBand {
  readonly kind: "conditional-band";
  readonly level: number;
  readonly points: readonly {
    readonly at: number;
    readonly lower: readonly [number, number];
    readonly upper: readonly [number, number];
  }[];
}

/**
 * Linear mean, linear mean absolute residual, quantiles of the scaled residuals. Null where the
 * magnitude does not vary, or the spread is nowhere positive.
 */
export function conditionalFit(
  differences: ArrayLike<number>,
  magnitude: ArrayLike<number>,
  coverage: number,
): ConditionalFit | null {
  const n = differences.length;
  const bias = lineThrough(differences, magnitude);
  if (bias === null) return null;
  const residuals = new Float64Array(n);
  const sizes = new Float64Array(n);
  for (let row = 0; row < n; row++) {
    residuals[row] = differences[row] - heightAt(bias, magnitude[row]);
    sizes[row] = Math.abs(residuals[row]);
  }
  const spread = lineThrough(sizes, magnitude);
  if (spread === null) return null;
  let used = 0;
  for (let row = 0; row < n; row++) {
    const here = heightAt(spread, magnitude[row]);
    if (here > 0) residuals[used++] = residuals[row] / here;
  }
  if (used === 0) return null;
  const scaled = sortNumbers(residuals.slice(0, used)) as never;
  return {
    bias,
    spread,
    quantiles: [
      quantileSorted(scaled, (1 - coverage) / 2),
      quantileSorted(scaled, (1 + coverage) / 2),
    ],
    withoutSpread: n - used,
  };
}

export const heightAt = ({ intercept, slope }: Line, x: number): number => intercept + slope * x;

/** The limit of one side as a line. */
export function limitLine({ bias, spread, quantiles }: ConditionalFit, side: 0 | 1): Line {
  return {
    intercept: bias.intercept + quantiles[side] * spread.intercept,
    slope: bias.slope + quantiles[side] * spread.slope,
  };
}

/** Fits of children drawn with replacement, replicate r from stream r; those without a fit are null. */
export function conditionalReplicates(
  differences: ArrayLike<number>,
  magnitude: ArrayLike<number>,
  children: Clusters,
  options: { readonly coverage: number; readonly replicates: number; readonly seed: number },
): (ConditionalFit | null)[] {
  const { start, rows } = rowsByCluster(children);
  const random = createRandom(options.seed);
  return Array.from({ length: options.replicates }, (_, replicate) => {
    random.restart(options.seed, replicate);
    const drawn: number[] = [];
    for (let c = 0; c < children.count; c++) {
      const child = random.integer(children.count);
      for (let at = start[child]; at < start[child + 1]; at++) drawn.push(rows[at]);
    }
    return conditionalFit(
      Float64Array.from(drawn, (row) => differences[row]),
      Float64Array.from(drawn, (row) => magnitude[row]),
      options.coverage,
    );
  });
}

/** Bias and limits at one magnitude; a limit is undefined where the fitted spread is not positive. */
export function conditionalPoint(
  fit: ConditionalFit,
  replicates: readonly (ConditionalFit | null)[],
  at: number,
  level: number,
): ConditionalPoint {
  const biases = replicates.flatMap((one) => (one ? [heightAt(one.bias, at)] : []));
  const standing = replicates.flatMap((one) => (one && heightAt(one.spread, at) > 0 ? [one] : []));
  const crosses =
    !(heightAt(fit.spread, at) > 0) || standing.length < 0.95 * Math.max(1, replicates.length);
  const limit = (side: 0 | 1) =>
    crosses
      ? undefinedBecause("the fitted spread is not safely positive here: the limits would cross")
      : percentileEstimate(
          heightAt(limitLine(fit, side), at),
          standing.map((one) => heightAt(limitLine(one, side), at)),
          level,
        );
  return {
    at,
    bias: percentileEstimate(heightAt(fit.bias, at), biases, level),
    lower: limit(0),
    upper: limit(1),
  };
}

/**
 * Both limits over magnitudes at once: each ± c standard errors, c the quantile over replicates of
 * the largest standardised departure anywhere. Undefined where a limit is.
 */
export function conditionalBand(
  fit: ConditionalFit,
  replicates: readonly (ConditionalFit | null)[],
  magnitudes: readonly number[],
  level: number,
): ConditionalBand | Undefined {
  const safe = magnitudes.filter(
    (at) => conditionalPoint(fit, replicates, at, level).lower.kind === "estimate",
  );
  const fits = replicates.flatMap((one) => (one ? [one] : []));
  if (safe.length === 0 || fits.length < 2) {
    return undefinedBecause("the fitted spread is nowhere safely positive");
  }
  const places = safe.flatMap((at) =>
    ([0, 1] as const).map((side) => {
      const value = heightAt(limitLine(fit, side), at);
      const drawn = fits.map((one) => heightAt(limitLine(one, side), at));
      const mean = drawn.reduce((sum, one) => sum + one, 0) / drawn.length;
      const squares = drawn.reduce((sum, one) => sum + (one - mean) ** 2, 0);
      return { value, drawn, se: Math.sqrt(squares / (drawn.length - 1)) };
    }),
  );
  const largest = Float64Array.from(fits, (_, replicate) =>
    Math.max(
      ...places.map(({ value, drawn, se }) =>
        se > 0 ? Math.abs(drawn[replicate] - value) / se : 0,
      ),
    ),
  );
  const reach = quantileSorted(largest.sort() as never, level);
  return {
    kind: "conditional-band",
    level,
    points: safe.map((at, index) => {
      const ends = (side: 0 | 1): [number, number] => {
        const { value, se } = places[2 * index + side]!;
        return [value - reach * se, value + reach * se];
      };
      return { at, lower: ends(0), upper: ends(1) };
    }),
  };
}

/** A value with percentiles of its replicates; never an interval that leaves it out. */
export function percentileEstimate(
  value: number,
  drawn: readonly number[],
  level: number,
): Estimate {
  const sorted = Float64Array.from(drawn).sort() as never;
  return {
    kind: "estimate",
    value,
    low: Math.min(value, quantileSorted(sorted, (1 - level) / 2)),
    high: Math.max(value, quantileSorted(sorted, (1 + level) / 2)),
    level,
    method: "cluster-bootstrap-percentile",
  };
}

/** Least squares; null where x does not vary. */
function lineThrough(y: ArrayLike<number>, x: ArrayLike<number>): Line | null {
  const n = y.length;
  let [meanX, meanY] = [0, 0];
  for (let row = 0; row < n; row++) {
    meanX += x[row] / n;
    meanY += y[row] / n;
  }
  let [squares, products, size] = [0, 0, 0];
  for (let row = 0; row < n; row++) {
    const away = x[row] - meanX;
    squares += away * away;
    products += away * (y[row] - meanY);
    size += x[row] * x[row];
  }
  if (!(squares > 1e-14 * size)) return null;
  const slope = products / squares;
  return { intercept: meanY - slope * meanX, slope };
}
