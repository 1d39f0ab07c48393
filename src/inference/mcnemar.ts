import { chiSquareTail } from "./distributions.js";

/** Tests of equal marginal proportions from the discordant pairs alone. */
export interface McNemar {
  /** (b - c)² / (b + c), without continuity correction; 0 when no pair is discordant. */
  readonly chiSquare: number;
  readonly pAsymptotic: number;
  /** Two-sided binomial test of b against c. */
  readonly pExact: number;
  /**
   * Probability of splits less likely than the one observed plus half that of those as likely
   * (Lancaster 1961): 2 P(X <= fewer) - P(X = fewer), and 1 - P(X = b) / 2 where b equals c, as in
   * Fagerland, Lydersen and Laake 2013.
   */
  readonly pMid: number;
}

/** McNemar 1947, from the discordant counts b and c; every p is 1 when both are 0. */
export function mcnemar(b: number, c: number): McNemar {
  const n = b + c;
  if (n === 0) return { chiSquare: 0, pAsymptotic: 1, pExact: 1, pMid: 1 };
  const chiSquare = (b - c) ** 2 / n;
  const fewer = Math.min(b, c);
  let term = logHalfBinomial(fewer, n);
  const split = Math.exp(term);
  let tail = split;
  for (let x = fewer; x > 0; x--) {
    term += Math.log(x / (n - x + 1));
    tail += Math.exp(term);
  }
  return {
    chiSquare,
    pAsymptotic: chiSquareTail(chiSquare, 1),
    pExact: Math.min(1, 2 * tail),
    pMid: b === c ? 1 - split / 2 : Math.min(1, 2 * tail - split),
  };
}

/** Logarithm of P(X = x) for X binomial of n with probability 1/2. */
function logHalfBinomial(x: number, n: number): number {
  let log = -n * Math.LN2;
  for (let i = 1; i <= x; i++) log += Math.log((n - x + i) / i);
  return log;
}
