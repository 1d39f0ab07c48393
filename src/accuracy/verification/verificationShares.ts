import type { Stratum } from "./verificationStrata.js";

/** A part of all children: with or without the condition on one side of the test. */
export interface Share {
  readonly value: number;
  readonly variance: number;
}

/**
 * Shares of all children that are test-positive with the condition, and so on, each stratum's rate
 * among the examined standing for the unexamined (Begg and Greenes 1983), with variances by the
 * delta method over the strata's sizes and rates. Positive and negative parts have covariance
 * -AB/N, because the sizes are multinomial and the rates independent.
 */
export interface VerificationShares {
  readonly n: number;
  readonly truePositive: Share;
  readonly falsePositive: Share;
  readonly falseNegative: Share;
  readonly trueNegative: Share;
}

export function verificationShares(
  strata: readonly Omit<Stratum, "foundMeanwhile">[],
): VerificationShares {
  const n = strata.reduce((sum, { positives, negatives }) => sum + positives + negatives, 0);
  const positive = (pick: (rate: number) => number) =>
    share(
      strata.map((s) => [s.positives / n, s.verified.truePositive, s.examinedPositives]),
      pick,
      n,
    );
  const negative = (pick: (rate: number) => number) =>
    share(
      strata.map((s) => [s.negatives / n, s.verified.falseNegative, s.examinedNegatives]),
      pick,
      n,
    );
  return {
    n,
    truePositive: positive((rate) => rate),
    falsePositive: positive((rate) => 1 - rate),
    falseNegative: negative((rate) => rate),
    trueNegative: negative((rate) => 1 - rate),
  };
}

/** Sum over strata of size times rate; each part is [size as a share of n, cases, examined]. */
function share(
  parts: readonly (readonly number[])[],
  pick: (rate: number) => number,
  n: number,
): Share {
  let value = 0;
  let squares = 0;
  let within = 0;
  for (const [size, cases, examined] of parts) {
    if (size === 0) continue;
    const rate = cases / examined;
    value += size * pick(rate);
    squares += size * pick(rate) ** 2;
    within += (size ** 2 * rate * (1 - rate)) / examined;
  }
  return { value, variance: notBelow0((squares - value ** 2) / n + within) };
}

/** A variance of 0 comes out of the differences above as a speck on either side of it. */
const notBelow0 = (variance: number): number => Math.max(0, variance);

/** A / (A + B) and its variance, A and B having covariance -AB/n. */
export function shareOf(part: Share, rest: Share, n: number): Share {
  const a = part.value;
  const b = rest.value;
  const covariance = -(a * b) / n;
  return {
    value: a / (a + b),
    variance: notBelow0(
      (b * b * part.variance + a * a * rest.variance - 2 * a * b * covariance) / (a + b) ** 4,
    ),
  };
}

/** A + B and its variance, likewise. */
export function sumOf(part: Share, rest: Share, n: number): Share {
  return {
    value: part.value + rest.value,
    variance: notBelow0(part.variance + rest.variance - (2 * part.value * rest.value) / n),
  };
}
