import type { Trend } from "./trendSlope.js";

/** What a reader of limits of agreement has to know, in plain sentences. */
export function limitNotes(facts: {
  readonly rowsOnly: boolean;
  readonly design: "independent" | "clustered" | "repeats" | "clustered-repeats";
  readonly trend: Trend;
  readonly heavy: boolean;
  readonly interval: string;
  readonly sites?: number;
}): string[] {
  const { rowsOnly, design, trend, heavy, interval, sites } = facts;
  const notes: string[] = [];
  if (rowsOnly) {
    notes.push("No subjects were given: the intervals assume independent rows.");
  }
  if (sites !== undefined) {
    notes.push(
      `Intervals respect that children of one site resemble each other; they count ${sites} sites.`,
    );
  } else if (design !== "independent") {
    notes.push(
      "Clustering hardly moves the limits themselves; it widens their intervals, which count children.",
    );
  }
  if (trend !== "mean") {
    notes.push(
      `The slope on the ${trend} is partly artefact: error in the ${trend} appears in the ` +
        "difference too (Bland and Altman 1995).",
    );
  }
  if (heavy) {
    notes.push(
      "The differences have tails that are not normal (|excess kurtosis| > 1): limits of bias ± SDs, " +
        "their intervals and the share outside them may be off; read the percentile limits" +
        (interval === "bootstrap" || design === "independent" || sites !== undefined
          ? "."
          : "; a bootstrap over children stands beside them too."),
    );
  }
  return notes;
}

/** What limits weighted for examination say first. */
export const examinedOnly =
  "Examination depended on the reading: the unweighted limits describe the examined only.";
