import { normalQuantile, requireLevel, tQuantile } from "../inference/index.js";
import { InputError } from "../results/index.js";
import { type GridCheck, gridValues } from "./gridValues.js";
import { printedNumber, type RoundingRange, roundingRange } from "./printedNumber.js";
import { halfWidths, meets, times } from "./printedRanges.js";

/** A mean with what is printed around it. */
export interface PrintedMean {
  readonly mean: string;
  readonly n: number;
  readonly sd?: string;
  /** Standard error of the mean. */
  readonly se?: string;
  /** Both ends of its interval, or neither. */
  readonly low?: string;
  readonly high?: string;
  /** Step in which single values were recorded, such as 0.25 dioptres; without it no grid check. */
  readonly step?: number;
}

/** How the interval of a mean may have been made. */
export type MeanIntervalMethod = "t" | "normal" | "2 SE" | "limits of agreement";

/** What stands between the printed numbers. */
export interface CheckedMean {
  readonly kind: "printed-mean";
  readonly printed: PrintedMean;
  readonly level: number;
  /** SE = SD / sqrt(n), within rounding? null unless both are printed. */
  readonly seIsConsistent: boolean | null;
  /** Is the mean the midpoint of its interval, within rounding? null without an interval. */
  readonly meanIsMidpoint: boolean | null;
  /** Ways of making the interval that print as stated. */
  readonly intervalFits: readonly MeanIntervalMethod[];
  /** Does what is called SD only fit the interval as a standard error? */
  readonly sdIsStandardError: boolean;
  /** The SD that follows from the interval, by Student's quantile; null without an interval. */
  readonly sdFromInterval: RoundingRange | null;
  /** Can n values on the grid have this mean and this SD? null without `step`. */
  readonly grid: GridCheck | null;
  readonly findings: readonly string[];
}

const caller = "checkPrintedMean";

/**
 * Do mean, SD, standard error, n and interval belong together, and can this mean arise from n values
 * recorded in steps?
 *
 * Every printed number stands for all that round to it, and a contradiction is stated only where
 * none of them would do. The grid check asks whether whole steps can sum to n times the mean and,
 * with an SD, whether squares of whole steps can (Brown and Heathers, Soc Psychol Personal Sci
 * 2017;8:363-369; Anaya, PeerJ Preprints 2016, doi 10.7287/peerj.preprints.2400). It decides little
 * once n is large: see `grid.decisive`. A spherical equivalent of prescriptions in 0.25 D steps lies
 * on a grid of 0.125 D.
 *
 * @throws when a number cannot be read, SD or SE is negative, n is no whole number of 2 or more, one
 * end of the interval is missing, or the step is not positive
 *
 * @example
 * checkPrintedMean({ mean: "-0.33", n: 10, step: 0.25 }).grid.meanPossible // => true
 */
export function checkPrintedMean(
  printed: PrintedMean,
  options: { readonly level?: number } = {},
): CheckedMean {
  const { level = 0.95 } = options;
  requireLevel(caller, level);
  const { n, step } = printed;
  if (!(Number.isInteger(n) && n >= 2)) {
    throw new InputError(`${caller} requires n as a whole number of 2 or more, got ${n}`);
  }
  if (step !== undefined && !(step > 0 && Number.isFinite(step))) {
    throw new InputError(`${caller} requires step above 0, got ${step}`);
  }
  if ((printed.low === undefined) !== (printed.high === undefined)) {
    throw new InputError(`${caller} requires both low and high, or neither, got one`);
  }
  const mean = printedNumber(caller, "mean", printed.mean);
  const sd = spreadOf("sd", printed.sd);
  const se = spreadOf("se", printed.se);
  const reach =
    printed.low === undefined || printed.high === undefined
      ? undefined
      : halfWidths(
          roundingRange(mean),
          roundingRange(printedNumber(caller, "low", printed.low)),
          roundingRange(printedNumber(caller, "high", printed.high)),
        );
  const root = Math.sqrt(n);
  const z = normalQuantile(1 - (1 - level) / 2);
  const t = tQuantile(1 - (1 - level) / 2, n - 1);
  const error = se ?? (sd && times(sd, 1 / root));
  const intervalFits: MeanIntervalMethod[] = [];
  if (reach && error) {
    if (meets(times(error, t), reach)) intervalFits.push("t");
    if (meets(times(error, z), reach)) intervalFits.push("normal");
    if (meets(times(error, 2), reach)) intervalFits.push("2 SE");
    if (sd && (meets(times(sd, z), reach) || meets(times(sd, 2), reach))) {
      intervalFits.push("limits of agreement");
    }
  }
  const found = {
    seIsConsistent: sd && se ? meets(times(sd, 1 / root), se) : null,
    meanIsMidpoint: reach === undefined ? null : reach !== null,
    intervalFits,
    sdIsStandardError:
      !!reach &&
      !!sd &&
      !intervalFits.some((fit) => fit !== "limits of agreement") &&
      meets(times(sd, t), reach),
    sdFromInterval: reach ? times(reach, root / t) : null,
    grid:
      step === undefined
        ? null
        : gridValues({ mean: roundingRange(mean), sd, n, step, decimals: mean.decimals }),
  };
  return {
    kind: "printed-mean",
    printed,
    level,
    ...found,
    findings: findingsOf(found, error !== undefined),
  };
}

function spreadOf(name: string, text: string | undefined): RoundingRange | undefined {
  if (text === undefined) return undefined;
  const number = printedNumber(caller, name, text);
  if (number.units < 0) {
    throw new InputError(`${caller} requires ${name} of 0 or more, got ${text}`);
  }
  const { low, high } = roundingRange(number);
  return { low: Math.max(0, low), high };
}

function findingsOf(
  found: Omit<CheckedMean, "kind" | "printed" | "level" | "findings">,
  hasError: boolean,
): string[] {
  const findings: string[] = [];
  if (found.seIsConsistent === false) findings.push("the standard error is not SD / sqrt(n)");
  if (found.meanIsMidpoint === false) findings.push("the mean is not the midpoint of its interval");
  if (found.meanIsMidpoint === true && hasError) {
    const fits = found.intervalFits.filter((fit) => fit !== "limits of agreement");
    if (fits.length > 0) findings.push(`the interval fits ${fits.join(", ")}`);
    else if (found.sdIsStandardError) findings.push("what is called SD fits as a standard error");
    else if (found.intervalFits.length > 0) {
      findings.push("called an interval of the mean, computed as limits of agreement");
    } else findings.push("the interval fits neither SD nor standard error with this n");
  }
  if (found.grid?.meanPossible === false) {
    findings.push("no values in these steps have this mean with this n");
  }
  if (found.grid?.sdPossible === false && found.grid.meanPossible) {
    findings.push("no values in these steps have this mean and this SD with this n");
  }
  return findings;
}
