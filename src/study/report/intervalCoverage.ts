import { measuredCoverage } from "./measuredCoverage.js";

/** Intervals whose coverage was measured on invented differences. */
type MeasuredInterval = "bias" | "percentile" | "normal" | "conditional" | "bent" | "chosen";

/** What a report can see of its differences; what it must not or cannot see is left out. */
export interface DifferencesSeen {
  readonly skewness?: number;
  readonly excessKurtosis?: number;
  readonly children?: number;
  readonly eyesOfChild?: "one eye" | "two eyes" | "sites";
}

const rows = measuredCoverage
  .trim()
  .split("\n")
  .map((line) => {
    const [interval, shape, design, children, least, most] = line.split("|") as string[];
    return {
      interval,
      shape,
      design,
      children: Number(children),
      least: Number(least),
      most: Number(most),
    };
  });

/** Skewness and excess kurtosis up to which differences count as near normal. */
const nearNormal = { skewness: 0.5, excessKurtosis: 1 };

function shapeOf({ skewness, excessKurtosis }: DifferencesSeen): string | undefined {
  if (skewness === undefined || excessKurtosis === undefined) return undefined;
  return Math.abs(skewness) <= nearNormal.skewness &&
    Math.abs(excessKurtosis) <= nearNormal.excessKurtosis
    ? "near normal"
    : "not near normal";
}

/**
 * The least and the most often that 95 % intervals held in simulated studies of this shape, design and
 * number of children: those of the largest number simulated that these data reach. Null where there
 * is none.
 */
export function coverageSeen(
  interval: MeasuredInterval,
  seen: DifferencesSeen,
): { readonly least: number; readonly most: number } | null {
  const shape = shapeOf(seen);
  const own = rows.filter(
    (row) =>
      row.interval === interval &&
      (shape === undefined || row.shape === shape) &&
      (seen.eyesOfChild === undefined || row.design === seen.eyesOfChild),
  );
  const reached = own.map((row) => row.children).filter((n) => n <= (seen.children ?? n));
  const children = Math.max(...reached);
  const used = seen.children === undefined ? own : own.filter((row) => row.children === children);
  if (used.length === 0) return null;
  return {
    least: Math.min(...used.map(({ least }) => least)),
    most: Math.max(...used.map(({ most }) => most)),
  };
}

const names: { readonly [interval in MeasuredInterval]: string } = {
  bias: "of the bias",
  percentile: "of percentile limits",
  normal: "of limits if normal",
  conditional: "of limits that change with the refraction (bias and spread straight lines)",
  bent: "of the same (spread bent)",
  chosen: "of rates at a limit chosen on the data",
};

/** Below it an interval is said to hold too seldom. */
const least = 0.93;

/**
 * One sentence on how often intervals like these held, from the measured table, the shape of the
 * differences and the number of children; empty where nothing like them was simulated.
 */
export function coverageSentence(
  intervals: readonly MeasuredInterval[],
  seen: DifferencesSeen,
): string {
  const said = intervals.flatMap((interval) => {
    const found = coverageSeen(interval, seen);
    if (found === null) return [];
    const range =
      found.least === found.most
        ? percentOf(found.least)
        : `${percentOf(found.least)} to ${percentOf(found.most)}`;
    return [`${names[interval]} ${range} in 100${found.least < least ? " (too seldom)" : ""}`];
  });
  if (said.length === 0) return "";
  const shape = shapeOf(seen);
  const like = [
    ...(shape === undefined
      ? ["of every shape"]
      : [
          `${shape}: skewness ${seen.skewness!.toFixed(1)}, excess kurtosis ${seen.excessKurtosis!.toFixed(1)}`,
        ]),
    ...(seen.eyesOfChild === undefined
      ? []
      : [
          { "one eye": "one eye a child", "two eyes": "two eyes a child", sites: "by site" }[
            seen.eyesOfChild
          ],
        ]),
    ...(seen.children === undefined ? [] : [`${seen.children} children`]),
  ].join("; ");
  return `How often 95 % intervals held in simulated studies like this one (${like}): ${said.join(", ")}.`;
}

const percentOf = (share: number) => String(Math.round(100 * share));
