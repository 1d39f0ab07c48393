import {
  chiSquareTail,
  noncentralTQuantile,
  normalCdf,
  normalQuantile,
} from "../../inference/index.js";

/** Standard deviations from the bias at which the interval of a limit begins and ends. */
export interface LimitFactors {
  readonly inner: number;
  readonly outer: number;
}

/**
 * Exact factors of one limit at a time, for independent normal differences: the upper limit lies
 * between bias + inner SD and bias + outer SD (noncentral t; Carkeet 2015). The lower limit is the
 * mirror image.
 */
export function singleLimitFactors(n: number, multiplier: number, level: number): LimitFactors {
  const at = (p: number) => noncentralTQuantile(p, n - 1, multiplier * Math.sqrt(n)) / Math.sqrt(n);
  return { inner: at((1 - level) / 2), outer: at((1 + level) / 2) };
}

/**
 * Exact factors of the pair of limits together: bias ± outer SD holds the central share of
 * differences with confidence (1 + level) / 2, bias ± inner SD with (1 - level) / 2 (two-sided
 * normal tolerance factors; Carkeet 2015).
 */
export function pairedLimitFactors(n: number, multiplier: number, level: number): LimitFactors {
  const content = 2 * normalCdf(multiplier) - 1;
  return remembered(`pair ${n} ${multiplier} ${level}`, () => ({
    inner: toleranceFactor(n, content, (1 - level) / 2),
    outer: toleranceFactor(n, content, (1 + level) / 2),
  }));
}

const known = new Map<string, LimitFactors>();

/** The last factors asked for: groups, components and simulations ask for the same ones again. */
function remembered(key: string, compute: () => LimitFactors): LimitFactors {
  const before = known.get(key);
  if (before !== undefined) return before;
  if (known.size >= 256) known.clear();
  const factors = compute();
  known.set(key, factors);
  return factors;
}

/** Factor k such that mean ± k SD holds at least `content` with the given confidence. */
function toleranceFactor(n: number, content: number, confidence: number): number {
  // The mean of n standard normals lies at x / sqrt(n); the half-width that holds the content
  // around it follows, and the SD has to reach it.
  const step = 0.25;
  const nodes: { weight: number; reach: number }[] = [];
  for (let k = 0; k * step <= 8.5; k++) {
    const x = k * step;
    const weight = (k === 0 ? 1 : 2) * step * Math.exp(-0.5 * x * x);
    nodes.push({
      weight: weight / Math.sqrt(2 * Math.PI),
      reach: halfWidthOf(content, x / Math.sqrt(n)),
    });
  }
  const df = n - 1;
  const confidenceOf = (factor: number) =>
    nodes.reduce(
      (sum, { weight, reach }) =>
        sum + weight * chiSquareTail((df * reach * reach) / (factor * factor), df),
      0,
    );
  let low = 0;
  let high = 2 * halfWidthOf(content, 0);
  while (confidenceOf(high) < confidence) {
    low = high;
    high *= 2;
  }
  return bisect((factor) => confidenceOf(factor) - confidence, low, high);
}

/** Half-width h with P(|Z - centre| <= h) = content. */
function halfWidthOf(content: number, centre: number): number {
  const start = normalQuantile((1 + content) / 2);
  return bisect(
    (h) => normalCdf(centre + h) - normalCdf(centre - h) - content,
    start / 2,
    Math.abs(centre) + start + 1,
  );
}

/** Root of an increasing function between two bounds, to the last digits. */
function bisect(excess: (x: number) => number, from: number, to: number): number {
  let [low, high] = [from, to];
  for (let step = 0; step < 200 && high - low > 1e-14 * high; step++) {
    const middle = low / 2 + high / 2;
    if (excess(middle) < 0) low = middle;
    else high = middle;
  }
  return low / 2 + high / 2;
}
