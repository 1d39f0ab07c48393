import type { Ellipse } from "../../agreement/index.js";
import { type CoarseCount, coarsen, type SmallCounts } from "../../disclosure/index.js";
import { type CoarsePairs, coarsePairs } from "../../privacy/index.js";
import type { Estimate, OneSided, Undefined } from "../../results/index.js";
import type { AgreementResult, AstigmatismResult } from "../run/studyResult.js";
import type { CoarseGroups } from "./coarseGroups.js";

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

/** Bias, SD and limits in two decimals: the stated exception among the numbers of a public report. */
export interface PublicAgreement extends Pick<AgreementResult, "quantity" | "mirrored"> {
  readonly shown: CoarsePairs;
  readonly limits: PublicLimits & { readonly outside: LimitsOutside };
  readonly weighted: Pick<PublicLimits, "bias" | "sd" | "lower" | "upper"> | Undefined | null;
  readonly subgroups: readonly {
    readonly by: string;
    readonly role: "confirmatory" | "exploratory";
    /** Null where the group's coarse counts may be fewer than 11. */
    readonly groups: readonly { readonly group: string; readonly limits: PublicLimits | null }[];
  }[];
}

/** Rows below and above bias ± SDs. */
type LimitsOutside = { readonly below: CoarseCount; readonly above: CoarseCount };

/** Astigmatism of the differences for the public. */
export interface PublicAstigmatism {
  readonly ellipses: readonly Ellipse[];
  readonly shown: CoarsePairs;
}

export function publicAstigmatism(
  { summary, shown }: AstigmatismResult,
  rule: SmallCounts,
): PublicAstigmatism {
  const { centroid, eyes } = summary.ellipses;
  return { ellipses: [centroid, eyes].map(inHundredthsOf), shown: coarsePairs(shown, rule) };
}

function inHundredthsOf(ellipse: Ellipse): Ellipse {
  const { kind, method, region, level, centre, semiAxes, angle } = ellipse;
  const [major, minor] = semiAxes.map(hundredths) as [number, number];
  return {
    ...{ kind, method, region, level, angle: Math.round(angle) },
    centre: { x: hundredths(centre.x), y: hundredths(centre.y) },
    semiAxes: [major, minor],
  };
}

/**
 * Agreement for the public.
 *
 * @param groupings of the first condition, which say how many children a group has at least
 */
export function publicAgreement(
  { quantity, mirrored, shown, weighted, limits, subgroups }: AgreementResult,
  groupings: readonly CoarseGroups[],
  rule: SmallCounts,
): PublicAgreement {
  return {
    quantity,
    mirrored,
    shown: coarsePairs(shown, rule),
    limits: {
      ...publicLimits(limits),
      outside: {
        below: coarsen(limits.outside.below, rule),
        above: coarsen(limits.outside.above, rule),
      },
    },
    weighted: weighted === null || "reason" in weighted ? weighted : fourOf(weighted),
    subgroups: subgroups.map(({ by, role, groups }, at) => ({
      by,
      role,
      groups: (groupings[at]?.groups ?? []).map(({ group, size }) => {
        const own = groups.find((one) => one.group === group)?.limits;
        const isShown = size.low >= rule.fewerThan && own?.kind === "limits-of-agreement";
        return { group, limits: isShown ? publicLimits(own) : null };
      }),
    })),
  };
}

function publicLimits(limits: Limits): PublicLimits {
  const { percentile, conditional, leads, coverage, multiplier, interval, level, notes } = limits;
  return {
    ...fourOf(limits),
    percentile:
      percentile.kind === "undefined"
        ? percentile
        : {
            kind: percentile.kind,
            lower: inHundredths(percentile.lower),
            upper: inHundredths(percentile.upper),
          },
    conditional:
      conditional.kind === "undefined"
        ? conditional
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
    notes,
  };
}

function fourOf(
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

function hundredths(value: number): number {
  return Math.round(value * 100) / 100 || 0;
}
