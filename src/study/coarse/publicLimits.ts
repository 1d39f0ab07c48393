import { limitsOfSummary } from "../../agreement/index.js";
import {
  type Estimate,
  type OneSided,
  type Undefined,
  undefinedBecause,
} from "../../results/index.js";
import type { AgreementResult } from "../run/studyResult.js";

type Limits = AgreementResult["limits"];
type Limit = Estimate | OneSided | Undefined;

/** Limits of agreement without a number of eyes, and without counts beyond them. */
export interface PublicLimits
  extends Pick<Limits, "leads" | "coverage" | "multiplier" | "interval" | "level" | "notes"> {
  readonly bias: Estimate | Undefined;
  readonly sd: Estimate | Undefined;
  readonly lower: Estimate | Undefined;
  readonly upper: Estimate | Undefined;
  readonly percentile:
    | { readonly kind: "percentile-limits"; readonly lower: Limit; readonly upper: Limit }
    | Undefined;
  readonly conditional:
    | {
        readonly kind: "regression-limits";
        readonly points: readonly {
          readonly at: number;
          readonly bias: Limit;
          readonly lower: Limit;
          readonly upper: Limit;
        }[];
      }
    | Undefined;
}

/** The numbers of a result with intervals of so many independent eyes, and nothing that came with them. */
export function publicLimits(limits: Limits, eyes: number): PublicLimits {
  const { percentile, conditional, leads, coverage, multiplier, level, notes, sites } = limits;
  const { interval, ...four } =
    sites === undefined
      ? { interval: "exact" as const, ...ofEyes(limits, eyes) }
      : { interval: limits.interval, ...fourOf(limits) };
  return {
    ...four,
    percentile:
      percentile.kind === "undefined"
        ? percentile
        : {
            kind: percentile.kind,
            lower: inHundredths(percentile.lower),
            upper: inHundredths(percentile.upper),
          },
    conditional:
      conditional.kind === "undefined" || eyes < fewestConditional
        ? undefinedBecause("children may be too few")
        : {
            kind: conditional.kind,
            points: conditional.points.map(({ at, bias, lower, upper }) => ({
              at: hundredths(at),
              bias: inHundredths(bias),
              lower: inHundredths(lower),
              upper: inHundredths(upper),
            })),
          },
    leads,
    coverage,
    multiplier,
    interval,
    level,
    notes:
      sites === undefined
        ? [
            ...notes,
            "For the public the intervals of bias, SD and bias ± SDs are those of as many independent eyes as there are at least by the counts shown; two eyes of a child count as one.",
          ]
        : notes,
  };
}

/** Limits that change with the refraction are made from so many children on. */
const fewestConditional = 100;

/** Bias, SD and limits as they are, with the intervals of so many independent eyes. */
function ofEyes(limits: Limits, n: number): Pick<PublicLimits, "bias" | "sd" | "lower" | "upper"> {
  const { multiplier, level } = limits;
  const exact = fourOf(limits);
  const [bias, sd] = [exact.bias, exact.sd];
  if (bias.kind === "undefined" || sd.kind === "undefined") return exact;
  const made = limitsOfSummary({ bias: bias.value, sd: sd.value, n }, { multiplier, level });
  const around = (name: "bias" | "sd" | "lower" | "upper"): Estimate | Undefined => {
    const own = exact[name];
    if (own.kind === "undefined") return own;
    const { value, low, high, method } = made[name];
    return {
      ...{ kind: own.kind, value: own.value, level, method },
      low: hundredths(own.value + low - value),
      high: hundredths(own.value + high - value),
    };
  };
  return { bias: around("bias"), sd: around("sd"), lower: around("lower"), upper: around("upper") };
}

export function fourOf(
  limits: {
    readonly [name in "bias" | "sd" | "lower" | "upper"]: Estimate | Undefined;
  },
): Pick<PublicLimits, "bias" | "sd" | "lower" | "upper"> {
  const { bias, sd, lower, upper } = limits;
  return {
    bias: inHundredths(bias),
    sd: inHundredths(sd),
    lower: inHundredths(lower),
    upper: inHundredths(upper),
  };
}

/** The number and its interval in two decimals, and nothing that came with them. */
function inHundredths<Kind extends Limit>(limit: Kind): Kind {
  if (limit.kind === "undefined") return { kind: limit.kind, reason: limit.reason } as Kind;
  const { kind, value, low, high, level, method } = limit;
  const reason = limit.kind === "one-sided" ? { reason: limit.reason } : {};
  const ends = { low: low && hundredths(low), high: high && hundredths(high) };
  return { kind, value: hundredths(value), ...ends, level, method, ...reason } as unknown as Kind;
}

export function hundredths(value: number): number {
  return Math.round(value * 100) / 100 || 0;
}
