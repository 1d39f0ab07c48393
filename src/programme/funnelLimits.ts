import { binomialCdf, binomialQuantile } from "../inference/index.js";
import { type ForAudience, InputError, jointAudience } from "../results/index.js";
import type { ProgrammeDescription } from "./describeProgramme.js";
import type { ProgrammeMeasureId } from "./programmeMeasures.js";

/** Limits of chance for one size of a group. */
export interface FunnelPoint {
  readonly size: number;
  /** Of 95 %. */
  readonly low: number;
  readonly high: number;
  /** Of 99.8 %. */
  readonly outerLow: number;
  readonly outerHigh: number;
}

/** A share in groups of different sizes, beside what chance makes of the share of all. */
export interface FunnelLimits extends ForAudience {
  readonly kind: "funnel-limits";
  readonly by: string;
  readonly id: ProgrammeMeasureId;
  readonly words: string;
  /** Share of all groups together. */
  readonly share: number;
  readonly n: number;
  readonly groups: readonly {
    readonly group: string;
    readonly counted: number;
    readonly size: number;
    readonly share: number;
    /** Within the limits of 95 %, beyond them, or beyond those of 99.8 %. */
    readonly place: "within" | "beyond" | "far-beyond";
  }[];
  readonly limits: readonly FunnelPoint[];
}

/**
 * A share by site (or another grouping) with the limits between which chance alone keeps a group of its
 * size: the binomial quantiles at .025 and .975, and at .001 and .999, about the share of all (funnel
 * plots: Spiegelhalter, Stat Med 2005;24:1185-1202). A count beyond them has an exact tail of at most
 * that. With 20 sites up to one is expected beyond the inner limits.
 *
 * @param description from `describeProgramme`
 * @param options `by`: "site" by default; `measure`: a share of counts, "referred" by default
 * @throws InputError when there is no such grouping, or the figure is no share of counts
 *
 * @example
 * const columns = { decision: ["refer", "pass", "pass", "pass"], condition: [null, null, null, null], reason: Array(4).fill("not-examined"), by: { site: ["a", "a", "b", "b"] } };
 * funnelLimits(describeProgramme(columns)).share // => 0.25
 */
export function funnelLimits(
  description: ProgrammeDescription,
  options: { readonly by?: string; readonly measure?: ProgrammeMeasureId } = {},
): FunnelLimits {
  const caller = "funnelLimits";
  const { by = "site", measure = "referred" } = options;
  const grouping = description.groupings.find((one) => one.by === by);
  if (grouping === undefined) {
    throw new InputError(
      `${caller} requires a grouping of the programme, got "${by}"; there are ${description.groupings.map((one) => one.by).join(", ") || "none"}`,
    );
  }
  const found = grouping.groups.map(({ group, measures }) => {
    const one = measures.find(({ id }) => id === measure);
    if (one?.counted == null || one.of === null || one.unit === "number") {
      throw new InputError(
        `${caller} requires a measure that is a share of counts, got "${measure}"`,
      );
    }
    return { group, words: one.words, counted: one.counted, size: one.of };
  });
  const sized = found.filter(({ size }) => size > 0);
  const n = sized.reduce((sum, { size }) => sum + size, 0);
  const counted = sized.reduce((sum, one) => sum + one.counted, 0);
  if (n === 0) throw new InputError(`${caller} requires children behind "${measure}", got none`);
  const share = counted / n;
  return {
    kind: "funnel-limits",
    ...jointAudience(description),
    by,
    id: measure,
    words: found[0].words,
    share,
    n,
    groups: sized.map((one) => ({
      group: one.group,
      counted: one.counted,
      size: one.size,
      share: one.counted / one.size,
      place: placeOf(one.counted, one.size, share),
    })),
    limits: sizesAlong(Math.max(...sized.map(({ size }) => size))).map((size) => ({
      size,
      low: binomialQuantile(0.025, size, share) / size,
      high: binomialQuantile(0.975, size, share) / size,
      outerLow: binomialQuantile(0.001, size, share) / size,
      outerHigh: binomialQuantile(0.999, size, share) / size,
    })),
  };
}

/** By the exact tails: the probability of as many, or as few, as were counted. */
function placeOf(counted: number, size: number, share: number): "within" | "beyond" | "far-beyond" {
  const below = binomialCdf(counted, size, share);
  const above = counted === 0 ? 1 : 1 - binomialCdf(counted - 1, size, share);
  const tail = Math.min(below, above);
  return tail < 0.001 ? "far-beyond" : tail < 0.025 ? "beyond" : "within";
}

/** Up to 150 sizes, closer together where limits bend. */
function sizesAlong(largest: number): number[] {
  const most = 1.05 * largest;
  const sizes = Array.from({ length: 150 }, (_, at) => Math.round(most ** ((at + 1) / 150)));
  return [...new Set(sizes)].filter((size) => size >= 1);
}
