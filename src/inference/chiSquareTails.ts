/**
 * Both tails of the chi-square distribution on the logarithmic scale, and x times its density: by the series below the mean
 * and Lentz's continued fraction above it (Abramowitz and Stegun 1964, 6.5.29 and 6.5.31), the common
 * factor by Stirling's series where the shape is large. The library's upper tail is off by 1e-4 of
 * the quantile above some 2,000 degrees of freedom, and its probabilities end at 1e-308.
 */
export function logChiSquareTails(
  x: number,
  df: number,
): { readonly lower: number; readonly upper: number; readonly density: number } {
  const none = Number.NEGATIVE_INFINITY;
  if (!(x > 0)) return { lower: none, upper: 0, density: none };
  if (x === Number.POSITIVE_INFINITY) return { lower: 0, upper: none, density: none };
  const a = df / 2;
  const half = x / 2;
  const factor = logFactor(half, a);
  const density = factor + Math.log(a);
  if (half < a + 1) {
    const lower = Math.min(0, factor + Math.log(series(half, a)));
    return { lower, upper: logOfRest(lower), density };
  }
  const upper = Math.min(0, density + Math.log(continuedFraction(half, a)));
  return { lower: logOfRest(upper), upper, density };
}

const logOfRest = (log: number): number => Math.log(-Math.expm1(log));

/** Logarithm of x^a e^-x / gamma(a + 1). */
function logFactor(x: number, a: number): number {
  if (a < 20) {
    // gamma(a + 1) from gamma(a + 21) by its recurrence.
    let product = 1;
    for (let k = 1; k <= 20; k++) product *= a + k;
    return a * Math.log(x) - x - (logGammaLarge(a + 20) - Math.log(product));
  }
  const relative = (x - a) / a;
  // a log(x/a) - (x - a), without losing digits where x is close to a.
  const exponent = -a * (relative - Math.log1p(relative));
  return exponent - 0.5 * Math.log(2 * Math.PI * a) - stirling(a);
}

/** Logarithm of gamma(a + 1), a of 20 or more. */
const logGammaLarge = (a: number): number =>
  a * Math.log(a) - a + 0.5 * Math.log(2 * Math.PI * a) + stirling(a);

const stirling = (a: number): number =>
  1 / (12 * a) - 1 / (360 * a ** 3) + 1 / (1260 * a ** 5) - 1 / (1680 * a ** 7);

function series(x: number, a: number): number {
  let term = 1;
  let sum = 1;
  for (let k = 1; term > sum * 1e-17; k++) {
    term *= x / (a + k);
    sum += term;
  }
  return sum;
}

function continuedFraction(x: number, a: number): number {
  let b = x + 1 - a;
  let c = 1e300;
  let d = 1 / b;
  let value = d;
  for (let k = 1; k < 1_000_000; k++) {
    const numerator = -k * (k - a);
    b += 2;
    d = 1 / (numerator * d + b);
    c = b + numerator / c;
    const change = c * d;
    value *= change;
    if (Math.abs(change - 1) < 1e-16) break;
  }
  return value;
}
