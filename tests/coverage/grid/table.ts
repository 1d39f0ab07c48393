// The grid as one table, and the claims of the rooms' READMEs, made of the same numbers.
import type { GridCell, GridResult } from "./grid.js";
import { shapes } from "./grid.js";

export type GridRow = GridResult & { readonly kind: GridCell["kind"] };

/** Least coverage that counts as holding: .93, or the level that is printed with the interval. */
const leastThatHolds = ({ level }: GridRow) => Math.min(0.93, level ?? 0.95);
const error = ({ covered, given }: GridRow) =>
  Math.sqrt(((covered ?? 0) * (1 - (covered ?? 0))) / given);

/** Below what it should be by more than two Monte Carlo errors. */
export const fails = (row: GridRow): boolean =>
  row.covered !== null && row.covered + 2 * error(row) < leastThatHolds(row);

const short = (share: number) => (share >= 0.9995 ? "1.00" : share.toFixed(2).replace(/^0/, ""));

function designOf({ eyes, step, form, sites, siteSd, drawn, by }: GridRow): string {
  return [
    eyes === 1 ? "one eye" : "two eyes",
    ...(step === 0.25 ? [] : [`${step} D`]),
    ...(form === "level" ? [] : [form]),
    ...(drawn === undefined ? [] : [`${100 * drawn} % of passes drawn`]),
    ...(sites === 0
      ? []
      : [
          `${sites} sites${siteSd === 0 ? " alike" : ""}, ${by === "clusters" ? "by site" : "by child"}`,
        ]),
  ].join(", ");
}

/** One row an interval and design; in a cell the coverage by number of children, in bold where it fails. */
export function gridTable(rows: readonly GridRow[]): string {
  const groups = new Map<string, GridRow[]>();
  for (const row of rows) {
    if (row.covered === null) continue;
    const key = `${row.interval} | ${designOf(row)}`;
    groups.set(key, [...(groups.get(key) ?? []), row]);
  }
  const lines = [...groups]
    .sort(([one], [other]) => (one < other ? -1 : 1))
    .map(([key, own]) => {
      const cells = shapes.map((shape) =>
        own
          .filter((row) => row.shape === shape)
          .sort((one, other) => one.children - other.children)
          .map((row) => {
            const text = `${row.children}: ${short(row.covered!)}`;
            return fails(row) ? `**${text}**` : text;
          })
          .join(", "),
      );
      return `| ${key} | ${cells.join(" | ")} |`;
    });
  return [
    `| interval | design | ${shapes.join(" | ")} |`,
    `|---|---|${"---|".repeat(shapes.length)}`,
    ...lines,
  ].join("\n");
}

/** What a README says, one line a claim, by room; the numbers are those of the grid. */
export function gridClaims(rows: readonly GridRow[]): Record<string, string[]> {
  const plain = rows.filter((row) => row.covered !== null && row.sites === 0);
  const range = (own: readonly GridRow[]) => {
    const found = own.map((row) => row.covered!);
    return found.length === 0
      ? "not measured"
      : `${short(Math.min(...found))} to ${short(Math.max(...found))} in ${found.length} cells`;
  };
  const failed = (own: readonly GridRow[]) => {
    const count = own.filter(fails).length;
    return count === 0 ? "none too low" : `${count} too low`;
  };
  const claim = (words: string, own: readonly GridRow[]) =>
    `- ${words}: ${range(own)}, ${failed(own)}.`;
  const of = (start: string, more: (row: GridRow) => boolean = () => true) =>
    plain.filter((row) => row.interval.startsWith(start) && row.kind === "all" && more(row));
  const normal = (shape: string) => of("limit, normal", (row) => row.shape === shape);
  const sites = (by: string, starts: readonly string[]) =>
    rows.filter(
      (row) =>
        row.covered !== null &&
        row.sites > 0 &&
        row.by === by &&
        starts.some((start) => row.interval.startsWith(start)),
    );
  const alike = (by: string, isAlike: boolean, starts: readonly string[] = ["corrected"]) =>
    sites(by, starts).filter(({ siteSd }) => (siteSd === 0) === isAlike);
  const weightedLimits = ["weighted bias", "weighted limit"];
  const weightedRates = ["weighted sensitivity", "weighted specificity"];
  const shownAreas = ["weighted area, 3"];
  const anyAreas = (by: string) =>
    sites(by, ["weighted area"]).filter(({ interval }) => interval === "weighted area");
  const line = ["calibration", "Passing-Bablok"];
  const vector = ["mean vector", "centroid"];
  const conditional = (start: string, bent: boolean) =>
    plain.filter(
      (row) =>
        row.kind === "conditional" &&
        row.interval.startsWith(start) &&
        row.step < 0.25 &&
        (row.form === "fan") === bent,
    );
  const repeats = (word: string) =>
    plain.filter((row) => row.interval === `within-eye SD, ${word}`);
  const chosen = (from: number, to: number) =>
    plain.filter(({ kind, children }) => kind === "chosen" && from <= children && children <= to);
  const agreement = ["bias", "limit, percentile", "share"];
  const accuracy = ["sensitivity", "specificity", "positivePredictiveValue", "youdenIndex"];
  return {
    agreement: [
      claim("bias", of("bias")),
      claim("percentile limits", of("limit, percentile")),
      claim("limits if normal, on normal differences", normal("normal")),
      claim("limits if normal, on skewed ones", normal("skewed")),
      claim("limits if normal, on heavy tails", normal("heavy")),
      claim("limits if normal, on 1.5 % gross errors", normal("gross")),
      claim("share within 0.50 D", of("share")),
      claim("slope on the mean", of("slope")),
      claim("conditional limits at 0 and 3 D, from 100 children on", conditional("limit, ", false)),
      claim("their simultaneous band", conditional("limits, ", false)),
      claim(
        "both in steps of 0.25 D, against the percentiles of all such rows",
        plain.filter((row) => row.kind === "conditional" && row.step === 0.25),
      ),
      claim("conditional limits where the spread is bent (fan)", conditional("limit, ", true)),
      claim("their simultaneous band there", conditional("limits, ", true)),
      claim(
        "conditional limits with sites, by site",
        sites("clusters", ["limit, conditional", "limits, conditional"]),
      ),
      claim("within-eye SD by jackknife, children of different SD", repeats("jackknife")),
      claim("the same by chi-square", repeats("chi-square")),
      claim("bias, percentile limits and share with sites, by site", sites("clusters", agreement)),
      claim("the same by child", sites("rows", agreement)),
      claim(
        "region of the mean vector, ellipse of the centroid, by site",
        sites("clusters", vector),
      ),
      claim("the same by child", sites("rows", vector)),
      claim("share of axes within 10 degrees, by site", sites("clusters", ["axis"])),
      claim("the same by child", sites("rows", ["axis"])),
      claim(
        "slope and intercept of a calibration and of Passing and Bablok, by site",
        sites("clusters", line),
      ),
      claim("the same by child", sites("rows", line)),
      claim(
        "bias and limits weighted for who was examined, sites that differ, by site",
        alike("clusters", false, weightedLimits),
      ),
      claim("the same by child", alike("rows", false, weightedLimits)),
      claim("the same, sites alike, by child", alike("rows", true, weightedLimits)),
    ],
    accuracy: [
      ...accuracy.map((name) => claim(name, of(name))),
      claim("positiveLikelihoodRatio", of("positiveLikelihoodRatio")),
      claim("rates with sites, by site", sites("clusters", accuracy)),
      claim("the same by child", sites("rows", accuracy)),
      claim(
        "rates corrected for who was examined, sites that differ, by site",
        alike("clusters", false),
      ),
      claim("the same by child", alike("rows", false)),
      claim("the same, sites alike, by site", alike("clusters", true)),
      claim("the same, sites alike, by child", alike("rows", true)),
    ],
    thresholds: [
      claim("area, default interval", of("area")),
      claim("rates of a chosen cut-off, nested interval, below 200 children", chosen(0, 199)),
      claim("the same from 200 children on", chosen(200, Number.POSITIVE_INFINITY)),
      claim("area with sites, by site", sites("clusters", ["area"])),
      claim("the same by child", sites("rows", ["area"])),
      claim(
        "area weighted for who was examined, 3 drawn misses or more, sites that differ, by site",
        alike("clusters", false, shownAreas),
      ),
      claim("the same by child", alike("rows", false, shownAreas)),
      claim("the same, sites alike, by site", alike("clusters", true, shownAreas)),
      claim("the same, sites alike, by child", alike("rows", true, shownAreas)),
      claim(
        "area weighted for who was examined, however few misses, by site",
        anyAreas("clusters"),
      ),
      claim("the same by child", anyAreas("rows")),
      claim("weighted rates of a fixed cut-off, by site", sites("clusters", weightedRates)),
      claim("the same by child", sites("rows", weightedRates)),
    ],
  };
}

/** The lines of src/study/report/measuredCoverage.ts: interval, shape, design, children, least, most. */
export function measuredLines(rows: readonly GridRow[]): string[] {
  const given = rows.filter((row) => row.covered !== null);
  const plain = (row: GridRow) => row.kind === "all" && row.form === "level" && row.step === 0.25;
  const conditional = (row: GridRow) =>
    row.interval.startsWith("limit, conditional") && row.step < 0.25;
  const kinds: readonly (readonly [string, (row: GridRow) => boolean])[] = [
    ["bias", (row) => plain(row) && row.interval === "bias"],
    ["percentile", (row) => plain(row) && row.interval.startsWith("limit, percentile")],
    ["normal", (row) => plain(row) && row.interval.startsWith("limit, normal")],
    ["conditional", (row) => conditional(row) && row.form !== "fan"],
    ["bent", (row) => conditional(row) && row.form === "fan"],
    ["chosen", (row) => row.kind === "chosen"],
  ];
  const lines = new Map<string, { least: number; most: number }>();
  for (const [name, belongs] of kinds) {
    for (const row of given) {
      if (!belongs(row) || (row.sites > 0 && row.by !== "clusters")) continue;
      const shape = row.shape === "normal" ? "near normal" : "not near normal";
      const design = row.sites > 0 ? "sites" : row.eyes === 1 ? "one eye" : "two eyes";
      // With sites it is their number that matters: all cells together.
      const key = [name, shape, design, row.sites > 0 ? 0 : row.children].join("|");
      const { least, most } = lines.get(key) ?? { least: 1, most: 0 };
      lines.set(key, {
        least: Math.min(least, row.covered!),
        most: Math.max(most, row.covered!),
      });
    }
  }
  return [...lines].map(
    ([key, { least, most }]) => `${key}|${least.toFixed(3)}|${most.toFixed(3)}`,
  );
}
