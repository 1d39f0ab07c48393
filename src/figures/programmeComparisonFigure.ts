import type { Audience } from "../privacy/index.js";
import {
  type ProgrammeComparison,
  type ProgrammeMeasureId,
  shownOfBoth,
} from "../programme/index.js";
import { type FigureSpec, linearEstimate, shownTo } from "../results/index.js";
import { forestFigure } from "./forestFigure.js";

/**
 * Differences of two programmes in percentage points, as they are and with ages made alike: unable,
 * referred, came, found, and what is corrected for who was examined. Cases per 1000 are shares of
 * children too and stand in the same unit. For the public (default) figures behind
 * which a count of either programme is below 11 are left out.
 *
 * @param comparison from `compareProgrammes`
 *
 * @example
 * const year = describeProgramme({ decision: ["refer", "pass"], condition: [true, null], reason: ["referred", "not-examined"] });
 * programmeComparisonFigure(compareProgrammes(year, year), { audience: "journal" }).name // => "programme-comparison"
 */
export function programmeComparisonFigure(
  comparison: ProgrammeComparison,
  options: { readonly audience?: Audience; readonly name?: string } = {},
): FigureSpec {
  const { name = "programme-comparison" } = options;
  const audience = shownTo(options.audience, comparison);
  const { names, measures, programmes, standardisedBy } = comparison;
  const shown = shownOfBoth(comparison, audience);
  const rows = measures.flatMap(({ id, unit, difference, standardised }, at) => {
    const short = shortWords[id];
    if (short === undefined || !shown.has(id) || difference.kind === "undefined") return [];
    const points = unit === "share" ? 100 : 0.1;
    const [n, m] = programmes.map(
      ({ overall }) => overall.measures[at].of ?? overall.counts.screened,
    );
    const row = (label: string, estimate: typeof difference) => ({
      label,
      n: n + m,
      estimate: linearEstimate(estimate, points),
    });
    return [
      row(short, difference),
      ...(standardised.kind === "estimate"
        ? [row(`${short}, ${standardisedBy} alike`, standardised)]
        : []),
    ];
  });
  return forestFigure(rows, {
    quantity: `difference, ${names[1]} minus ${names[0]}`,
    unit: "percentage points",
    grouping: "figure",
    reference: 0,
    referenceWords: "no difference",
    name,
    n: programmes[0].n + programmes[1].n,
    // what the audience may see was decided above, by the counts of both
    audience: "journal",
  });
}

/** The shares of children among the figures, in few words. */
const shortWords: { readonly [Id in ProgrammeMeasureId]?: string } = {
  unable: "Unable",
  referred: "Referred",
  followUp: "Came after referral",
  found: "Found",
  predictiveValue: "Predictive value",
  correctedYield: "Found, all examined",
  missed: "Missed of passes",
  prevalence: "Prevalence",
  departures: "Departures",
};
