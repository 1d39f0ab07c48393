import { type Ellipse, ellipseOfMean } from "../../agreement/index.js";
import { type CoarseCount, type CoarseRate, coarseRate } from "../../disclosure/index.js";
import { proportionInterval } from "../../inference/index.js";
import type { CoarsePairs } from "../../privacy/index.js";
import type { Protocol } from "../../protocol/index.js";
import { type Undefined, undefinedBecause } from "../../results/index.js";
import type { AgreementResult, AstigmatismResult } from "../run/studyResult.js";
import type { AgreementEyes, ShownEyes } from "./agreementEyes.js";
import type { CoarseGroups } from "./coarseGroups.js";
import { fourOf, hundredths, type PublicLimits, publicLimits } from "./publicLimits.js";

/** Bias, SD and limits in two decimals: the stated exception among the numbers of a public report. */
export interface PublicAgreement extends Pick<AgreementResult, "quantity" | "mirrored"> {
  readonly shown: CoarsePairs;
  readonly limits: PublicLimits & Pick<Partial<ShownLimits>, "outside">;
  readonly weighted: Pick<PublicLimits, "bias" | "sd" | "lower" | "upper"> | Undefined | null;
  /** Of M: within the acceptable difference; null where its counts would narrow a small one. */
  readonly within: PublicShare | null;
  readonly subgroups: readonly {
    readonly by: string;
    readonly role: "confirmatory" | "exploratory";
    /** Null where the group's coarse counts may be fewer than 11. */
    readonly groups: readonly { readonly group: string; readonly limits: PublicLimits | null }[];
  }[];
}

/** Rows below and above bias ± SDs. */
type ShownLimits = { readonly outside: NonNullable<ShownEyes["outside"]> };

/** A share of eyes in coarse counts. */
export interface PublicShare {
  readonly count: CoarseCount;
  readonly rest: CoarseCount;
  /** To what both are rounded. */
  readonly roundTo: number;
  readonly rate: CoarseRate;
}

/** Astigmatism of the differences for the public. */
export interface PublicAstigmatism {
  readonly ellipses: readonly Ellipse[];
  readonly shown: CoarsePairs;
}

export function publicAstigmatism(
  { summary }: AstigmatismResult,
  shown: CoarsePairs,
  eyes: ShownEyes,
  protocol: Protocol,
): PublicAstigmatism {
  const plugIn = inHundredthsOf(summary.ellipses.eyes);
  const mean =
    protocol.clusters === "site"
      ? summary.ellipses.centroid
      : ellipseOfMean(plugIn, independent(eyes.least, protocol), protocol.level);
  return {
    ellipses: [inHundredthsOf(mean), plugIn],
    shown: eyes.cells ? shown : withoutCells(shown),
  };
}

const withoutCells = (shown: CoarsePairs): CoarsePairs => ({ ...shown, cells: [] });

/** Two eyes of a child count as one, so that no interval is too narrow. */
function independent(eyes: number, { eye }: Pick<Protocol, "eye">): number {
  return Math.max(3, eye === "both" || eye === "worse" ? Math.floor(eyes / 2) : eyes);
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
 * @param examined rows of the first condition
 */
export function publicAgreement(
  { quantity, mirrored, weighted, limits, subgroups }: AgreementResult,
  shown: CoarsePairs,
  eyes: AgreementEyes,
  {
    groupings,
    examined,
    protocol,
  }: {
    readonly groupings: readonly CoarseGroups[];
    readonly examined: CoarseCount;
    readonly protocol: Protocol;
  },
): PublicAgreement {
  const own = eyes[quantity];
  if (own === null) return tooFew({ quantity, mirrored, shown, limits, weighted, subgroups });
  const ofRow = protocol.unit === "child" && protocol.eye === "worse" ? 2 : 1;
  // as many eyes of each row of a group as of all
  const eyesOfRow = Math.min(ofRow, own.least / examined.high);
  return {
    quantity,
    mirrored,
    shown: own.cells ? shown : withoutCells(shown),
    limits: {
      ...publicLimits(limits, independent(own.least, protocol)),
      ...(own.outside === null ? {} : { outside: own.outside }),
    },
    weighted: weighted === null || "reason" in weighted ? weighted : fourOf(weighted),
    within: own.within && { ...own.within, rate: shareOf(own.within, protocol) },
    subgroups: subgroups.map(({ by, role, groups }, at) => ({
      by,
      role,
      groups: (groupings[at]?.groups ?? []).map(({ group, size }) => {
        const found = groups.find((one) => one.group === group)?.limits;
        const isShown = size.low >= shown.rule.fewerThan && found?.kind === "limits-of-agreement";
        const least = independent(Math.floor(size.low * eyesOfRow), protocol);
        return { group, limits: isShown ? publicLimits(found, least) : null };
      }),
    })),
  };
}

/** Nothing of a component that fewer eyes or children have than may be counted. */
function tooFew({
  quantity,
  mirrored,
  shown,
  limits,
  weighted,
  subgroups,
}: Pick<AgreementResult, "quantity" | "mirrored" | "limits" | "weighted" | "subgroups"> & {
  readonly shown: CoarsePairs;
}): PublicAgreement {
  const few = undefinedBecause(`fewer than ${shown.rule.fewerThan} children`);
  const { leads, coverage, multiplier, interval, level } = limits;
  return {
    quantity,
    mirrored,
    shown: withoutCells(shown),
    limits: {
      ...{ bias: few, sd: few, lower: few, upper: few, percentile: few, conditional: few },
      ...{ leads, coverage, multiplier, interval, level, notes: [] },
    },
    weighted: weighted && few,
    within: null,
    subgroups: subgroups.map(({ by, role }) => ({ by, role, groups: [] })),
  };
}

function shareOf(
  { count, rest }: NonNullable<ShownEyes["within"]>,
  protocol: Protocol,
): CoarseRate {
  const twoEyes = independent(100, protocol) < 100;
  const { level, clusters } = protocol;
  const found = coarseRate(
    [count, rest],
    ([within, beyond]) => within! / (within! + beyond!),
    (counts) => {
      const [within, beyond] = counts.map((one) => (twoEyes ? Math.floor(one / 2) : one));
      // an interval over sites needs the children of each
      return clusters === "site"
        ? {}
        : proportionInterval({ successes: within!, trials: within! + beyond! }, { level });
    },
  );
  return found!;
}
