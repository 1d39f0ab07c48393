import type { RoundingRange } from "./printedNumber.js";
import { times } from "./printedRanges.js";

/** Can values in whole steps have a printed mean and SD? */
export interface GridCheck {
  readonly step: number;
  readonly meanPossible: boolean;
  /** null without a printed SD. */
  readonly sdPossible: boolean | null;
  /** Are there means of this many decimals that n values in these steps cannot have? */
  readonly decisive: boolean;
}

const noise = 1e-9;

/**
 * Sums of n whole steps within n times the mean's rounding range; for each, sums of squares of the
 * same parity within the SD's range, from the least that whole numbers of that sum can have.
 */
export function gridValues(printed: {
  readonly mean: RoundingRange;
  readonly sd: RoundingRange | undefined;
  readonly n: number;
  readonly step: number;
  readonly decimals: number;
}): GridCheck {
  const { mean, sd, n, step, decimals } = printed;
  const first = Math.ceil((mean.low * n) / step - noise);
  const last = Math.floor((mean.high * n) / step + noise);
  const sums = Math.max(0, last - first + 1);
  const fitting = (sum: number) => sd !== undefined && squaresFit(sum, n, times(sd, 1 / step));
  // sums differ by 1, so their squares' parities alternate: a few thousand decide
  const looked = Math.min(sums, 5000);
  return {
    step,
    meanPossible: sums > 0,
    sdPossible:
      sd === undefined ? null : Array.from({ length: looked }, (_, at) => first + at).some(fitting),
    decisive: step / n > 10 ** -decimals,
  };
}

/** Is there a sum of squares of n whole numbers, of this sum, within the SD's range? */
function squaresFit(sum: number, n: number, sd: RoundingRange): boolean {
  const about = (sum * sum) / n;
  const whole = Math.floor(sum / n);
  const rest = sum - whole * n;
  const least = (n - rest) * whole ** 2 + rest * (whole + 1) ** 2;
  const from = Math.max(least, Math.ceil(about + (n - 1) * sd.low ** 2 - noise));
  const to = Math.floor(about + (n - 1) * sd.high ** 2 + noise);
  // a whole number and its square have one parity, so sum and sum of squares do
  const start = (from - sum) % 2 === 0 ? from : from + 1;
  return start <= to;
}
