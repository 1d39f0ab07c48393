/** A straight line. */
export interface Line {
  readonly intercept: number;
  readonly slope: number;
}

/** Bias line, spread line and what they leave: all that conditional limits are made of. */
export interface ConditionalFit {
  readonly bias: Line;
  /** Mean absolute residual. */
  readonly spread: Line;
  /** Mean magnitude, each row's distance from it, and their squares. */
  readonly centre: number;
  readonly away: Float64Array;
  readonly squares: number;
  readonly residuals: Float64Array;
  readonly spreadAtRow: Float64Array;
  /** Rows where the fitted spread is not positive: in the lines, but in no quantile. */
  readonly withoutSpread: number;
}

/**
 * Linear mean and linear mean absolute residual. Null where the magnitude does not vary, or the
 * differences lie on their line.
 */
export function conditionalFit(
  differences: ArrayLike<number>,
  magnitude: ArrayLike<number>,
): ConditionalFit | null {
  const n = differences.length;
  let [centre, size] = [0, 0];
  for (let row = 0; row < n; row++) centre += magnitude[row] / n;
  const away = Float64Array.from({ length: n }, (_, row) => magnitude[row] - centre);
  let squares = 0;
  for (let row = 0; row < n; row++) {
    squares += away[row] * away[row];
    size += magnitude[row] * magnitude[row];
  }
  if (!(squares > 1e-14 * size)) return null;
  const bias = lineThrough(differences, away, squares);
  const residuals = Float64Array.from(
    { length: n },
    (_, row) => differences[row] - heightAt(bias, away[row]),
  );
  const sizes = residuals.map(Math.abs);
  // Rounding alone is no spread.
  if (!(largest(sizes) > 1e-12 * largest(differences))) return null;
  const spread = lineThrough(sizes, away, squares);
  const spreadAtRow = away.map((x) => heightAt(spread, x));
  let withoutSpread = 0;
  for (let row = 0; row < n; row++) if (!(spreadAtRow[row] > 0)) withoutSpread++;
  const atOrigin = ({ intercept, slope }: Line) => ({
    intercept: intercept - slope * centre,
    slope,
  });
  return {
    bias: atOrigin(bias),
    spread: atOrigin(spread),
    centre,
    away,
    squares,
    residuals,
    spreadAtRow,
    withoutSpread,
  };
}

export const heightAt = ({ intercept, slope }: Line, x: number): number => intercept + slope * x;

/** The limit of one side as a line. */
export function limitLine({ bias, spread }: ConditionalFit, quantile: number): Line {
  return {
    intercept: bias.intercept + quantile * spread.intercept,
    slope: bias.slope + quantile * spread.slope,
  };
}

function largest(values: ArrayLike<number>): number {
  let result = 0;
  for (let row = 0; row < values.length; row++) result = Math.max(result, Math.abs(values[row]));
  return result;
}

/** Least squares on distances from their mean. */
function lineThrough(y: ArrayLike<number>, away: Float64Array, squares: number): Line {
  let [sum, products] = [0, 0];
  for (let row = 0; row < away.length; row++) sum += y[row];
  const intercept = sum / away.length;
  for (let row = 0; row < away.length; row++) products += away[row] * (y[row] - intercept);
  return { intercept, slope: products / squares };
}
