import { normalQuantile, requireLevel, tQuantile } from "../inference/index.js";
import { InputError } from "../results/index.js";
import {
  type PrintedNumber,
  printedNumber,
  type RoundingRange,
  roundingRange,
} from "./printedNumber.js";
import { halfWidths, meets, over, times } from "./printedRanges.js";

/** Limits of agreement, or what is called so, as printed. */
export interface PrintedLimits {
  readonly bias: string;
  readonly low: string;
  readonly high: string;
  readonly sd?: string;
  /** Pairs behind them. */
  readonly n?: number;
  /** What the paper calls the interval. */
  readonly printedAs?: LimitsName;
}

export type LimitsName = "limits of agreement" | "confidence interval";

/** A multiplier of the SD that the printed numbers allow. */
export type LimitsMultiplier = "1.96 SD" | "2 SD" | "t SD";

/** What stands between the printed numbers. */
export interface CheckedLimits {
  readonly kind: "printed-limits";
  readonly printed: PrintedLimits;
  readonly level: number;
  readonly midpoint: number;
  /** Is the bias the midpoint of the limits, within rounding? */
  readonly biasIsMidpoint: boolean;
  /** Half-width divided by the SD, as far as rounding leaves it open; null without an SD. */
  readonly multiplier: { readonly low: number; readonly high: number } | null;
  /** Multipliers that print as stated: the normal quantile and 2; else Student's quantile. */
  readonly fits: readonly LimitsMultiplier[];
  /**
   * What the numbers are: decided by the SD and, for a confidence interval of the mean, by n;
   * "undecided" without them.
   */
  readonly readAs: LimitsName | "either" | "neither" | "undecided";
  /** Called one thing, computed as the other. */
  readonly mislabelled: boolean;
  /** Where the bias is not the midpoint: the fewest minus signs that, put back, mend it. */
  readonly lostMinus: readonly (readonly ("bias" | "low" | "high")[])[];
  /** Where the limits would fit with their places changed. */
  readonly swapped: boolean;
  /** SD that follows from the limits alone: by the normal quantile and by 2. */
  readonly sdFromLimits: { readonly normal: RoundingRange; readonly two: RoundingRange } | null;
  /** What was found, in words. */
  readonly findings: readonly string[];
}

const caller = "checkPrintedLimits";

/**
 * What is wrong with printed limits of agreement, from the printed digits alone.
 *
 * Is the bias the midpoint? Are the limits 1.96 or 2 SD away? Is a "confidence interval" really the
 * limits of agreement, or the reverse? Which lost minus sign would mend it? Every printed number
 * stands for all that round to it, and a claim is made only where none of them would do.
 *
 * @throws when a number cannot be read, the SD is negative, n is no whole number of 2 or more
 *
 * @example
 * checkPrintedLimits({ bias: "0.34", low: "0.46", high: "1.14" }).lostMinus // => [["low"]]
 */
export function checkPrintedLimits(
  printed: PrintedLimits,
  options: { readonly level?: number } = {},
): CheckedLimits {
  const { level = 0.95 } = options;
  requireLevel(caller, level);
  const { n, printedAs } = printed;
  if (n !== undefined && !(Number.isInteger(n) && n >= 2)) {
    throw new InputError(`${caller} requires n as a whole number of 2 or more, got ${n}`);
  }
  const numbers = {
    bias: printedNumber(caller, "bias", printed.bias),
    low: printedNumber(caller, "low", printed.low),
    high: printedNumber(caller, "high", printed.high),
  };
  const sd = printed.sd === undefined ? undefined : printedNumber(caller, "sd", printed.sd);
  if (sd !== undefined && sd.units < 0) {
    throw new InputError(`${caller} requires sd of 0 or more, got ${printed.sd}`);
  }
  const reach = reachOf(numbers);
  const spread = sd && roundingRange(sd);
  const z = normalQuantile(1 - (1 - level) / 2);
  const fits = reach && spread ? multipliersOf(reach, spread, z, n, level) : [];
  const interval =
    reach && spread && n !== undefined
      ? [z, tQuantile(1 - (1 - level) / 2, n - 1)].some((quantile) =>
          meets(times(spread, quantile / Math.sqrt(n)), reach),
        )
      : undefined;
  const readAs = nameOf(
    spread === undefined || reach === null ? undefined : fits.length > 0,
    interval,
  );
  const found = {
    midpoint: (numbers.low.value + numbers.high.value) / 2,
    biasIsMidpoint: reach !== null,
    multiplier: reach && spread ? over(reach, spread) : null,
    fits,
    readAs,
    mislabelled:
      printedAs !== undefined &&
      (readAs === "limits of agreement" || readAs === "confidence interval") &&
      readAs !== printedAs,
    lostMinus: reach === null ? lostMinus(numbers) : [],
    swapped:
      reach === null && reachOf({ ...numbers, low: numbers.high, high: numbers.low }) !== null,
    sdFromLimits: reach && { normal: times(reach, 1 / z), two: times(reach, 1 / 2) },
  };
  return {
    kind: "printed-limits",
    printed,
    level,
    ...found,
    findings: findingsOf(found, printedAs),
  };
}

type Numbers = Readonly<Record<"bias" | "low" | "high", PrintedNumber>>;

function reachOf({ bias, low, high }: Numbers): RoundingRange | null {
  if (low.value > high.value) return null;
  return halfWidths(roundingRange(bias), roundingRange(low), roundingRange(high));
}

function multipliersOf(
  reach: RoundingRange,
  spread: RoundingRange,
  z: number,
  n: number | undefined,
  level: number,
): LimitsMultiplier[] {
  const possible: [LimitsMultiplier, number][] = [
    ["1.96 SD", z],
    ["2 SD", 2],
  ];
  const fitting = possible.filter(([, multiplier]) => meets(times(spread, multiplier), reach));
  if (fitting.length > 0 || n === undefined) return fitting.map(([name]) => name);
  const student = tQuantile(1 - (1 - level) / 2, n - 1);
  return meets(times(spread, student), reach) ? ["t SD"] : [];
}

function nameOf(
  limits: boolean | undefined,
  interval: boolean | undefined,
): CheckedLimits["readAs"] {
  if (limits === undefined) return "undecided";
  if (limits) return interval === true ? "either" : "limits of agreement";
  return interval === undefined ? "undecided" : interval ? "confidence interval" : "neither";
}

/** The smallest sets of positive numbers that, made negative, leave the bias in the middle. */
function lostMinus(numbers: Numbers): ("bias" | "low" | "high")[][] {
  const names = (["bias", "low", "high"] as const).filter((name) => numbers[name].units > 0);
  const mending = subsets(names).filter((chosen) => {
    const changed = { ...numbers };
    for (const name of chosen) {
      const { value, units } = numbers[name];
      changed[name] = { ...numbers[name], value: -value, units: -units };
    }
    return reachOf(changed) !== null;
  });
  const fewest = Math.min(...mending.map((chosen) => chosen.length));
  return mending.filter((chosen) => chosen.length === fewest);
}

function subsets<Item>(items: readonly Item[]): Item[][] {
  const count = 2 ** items.length;
  return Array.from({ length: count - 1 }, (_, set) =>
    items.filter((_item, at) => ((set + 1) >> at) % 2 === 1),
  );
}

function findingsOf(
  found: Pick<
    CheckedLimits,
    | "midpoint"
    | "biasIsMidpoint"
    | "fits"
    | "readAs"
    | "mislabelled"
    | "lostMinus"
    | "swapped"
    | "multiplier"
  >,
  printedAs: LimitsName | undefined,
): string[] {
  const findings: string[] = [];
  if (!found.biasIsMidpoint) {
    findings.push("the bias is not the midpoint of the limits");
    for (const names of found.lostMinus) {
      findings.push(`a minus sign lost before ${names.join(" and ")} would mend it`);
    }
    if (found.swapped) findings.push("lower and upper limit have changed places");
  }
  if (found.mislabelled) findings.push(`called a ${printedAs}, computed as ${found.readAs}`);
  if (found.readAs === "neither" && found.multiplier) {
    const { low, high } = found.multiplier;
    findings.push(
      `the limits are ${low.toFixed(2)} to ${high.toFixed(2)} SD from the bias: neither 1.96 nor 2`,
    );
  }
  if (found.readAs === "undecided" && found.multiplier && found.fits.length === 0) {
    const { low, high } = found.multiplier;
    findings.push(
      `the limits are ${low.toFixed(2)} to ${high.toFixed(2)} SD from the bias; n would tell whether they are a confidence interval`,
    );
  }
  if (found.fits.length > 0)
    findings.push(`the limits are ${found.fits.join(" or ")} from the bias`);
  return findings;
}
