import { quantileSorted } from "simple-statistics";
import { type CorrectedAccuracy, correctByDecision, noTestOverSites } from "../accuracy/index.js";
import { percentileLimit } from "../agreement/index.js";
import { type Homogeneity, homogeneity, requireLevel } from "../inference/index.js";
import {
  type Estimate,
  type ForAudience,
  InputError,
  jointAudience,
  type Undefined,
  undefinedBecause,
} from "../results/index.js";
import { clustersOf, groupRows, type Labels, type UndecidablePolicy } from "../rows/index.js";
import { type ProgrammeColumns, requireProgrammeColumns } from "./programmeColumns.js";
import {
  type ProgrammeMeasure,
  type ProgrammeMeasureId,
  programmeMeasures,
} from "./programmeMeasures.js";
import {
  type CountingOptions,
  daysAfterReferral,
  type StepCounts,
  stepCounts,
} from "./stepCounts.js";

/** The figures of some children of a programme. */
export interface ProgrammeGroup {
  /** "" for all children. */
  readonly group: string;
  readonly counts: StepCounts;
  /** Quartiles of days from screening to exam; null without days. */
  readonly dayQuartiles: readonly [lower: number, median: number, upper: number] | null;
  /** The programme's own decision as the rule under study. */
  readonly corrected: CorrectedAccuracy;
  readonly measures: readonly ProgrammeMeasure[];
}

/** The same figures in the groups of one grouping. */
export interface ProgrammeGrouping {
  readonly by: string;
  readonly groups: readonly ProgrammeGroup[];
  /** Whether all groups share one value, for each share of counts. */
  readonly sameInAll: readonly {
    readonly id: ProgrammeMeasureId;
    readonly test: Homogeneity | Undefined;
  }[];
}

/** A programme in figures. */
export interface ProgrammeDescription extends ForAudience {
  readonly kind: "programme";
  /** Eligible children. */
  readonly n: number;
  readonly level: number;
  readonly undecidable: UndecidablePolicy;
  readonly withinDays: number | null;
  /** Sites above the children, where columns name them: intervals then go by site. */
  readonly sites?: number;
  readonly overall: ProgrammeGroup;
  readonly groupings: readonly ProgrammeGrouping[];
  readonly notes: readonly string[];
}

/**
 * A screening programme in plain figures: eligible, screened, screened again, unable, referred, asked,
 * came, days to exam, cases found, predictive value, exams per case; and what the examined say of
 * everybody, by `correctByDecision` with the programme's own decision as the rule. Overall and by group,
 * each with its interval and a test that all groups share one value.
 *
 * Shares by Wilson 1927, the median by order statistics; the test is Pearson's chi-square. With `site`
 * shares and exams per case are jackknifed over sites, order statistics count effective children, corrected
 * figures are widened as in `correctByDecision`, and there is no test of groups that share sites; a grouping
 * whose groups lie each in one site stays by child. "Found" is what exams of the referred found; what would have been found had every
 * referral been examined is corrected and named so. A file that does not record who was asked leaves the
 * referred and the drawn; a note says so.
 *
 * @param columns one row an eligible child
 * @param options `undecidable`: how the unable count, "refer" by default; `withinDays`: the time
 * promised for an exam; `level` 0.95, `seed` 1 and `replicates` 10000 of the corrected intervals;
 * `refused`: a reason for which nothing can be corrected
 * @throws InputError when columns differ in length, or a word is unknown
 *
 * @example
 * describeProgramme({ decision: ["refer", "pass", "pass", "refer"], condition: [true, null, false, null], reason: ["referred", "not-examined", "sampled", "not-examined"] }).overall.counts.found // => 1
 */
export function describeProgramme(
  columns: ProgrammeColumns,
  options: CountingOptions & {
    readonly level?: number;
    readonly seed?: number;
    readonly replicates?: number;
    readonly refused?: string;
  } = {},
): ProgrammeDescription {
  const caller = "describeProgramme";
  const { level = 0.95, undecidable = "refer", withinDays } = options;
  requireLevel(caller, level);
  if (withinDays !== undefined && !(withinDays >= 0)) {
    throw new InputError(`${caller} requires withinDays of 0 or more, got ${withinDays}`);
  }
  const n = requireProgrammeColumns(caller, columns);
  const settings = { ...options, level, undecidable };
  const group = (name: string, rows: readonly number[], bySite = columns.site !== undefined) =>
    groupOf(name, columns, rows, { ...settings, bySite });
  return {
    kind: "programme",
    ...jointAudience(columns),
    n,
    level,
    undecidable,
    withinDays: withinDays ?? null,
    ...(columns.site && { sites: new Set(Array.from(columns.site)).size }),
    overall: group(
      "",
      Array.from({ length: n }, (_, row) => row),
    ),
    groupings: Object.entries(columns.by ?? {}).map(([by, labels]) => {
      const parts = groupRows(caller, labels, n, by);
      const shareSites = parts.some(({ rows }) => sitesIn(columns, rows) > 1);
      const groups = parts
        .map(({ label, rows }) => group(label, rows, shareSites))
        .sort((one, other) => inOrder(one.group, other.group));
      return { by, groups, sameInAll: sameInAll(groups, shareSites) };
    }),
    notes: notesOn(columns, settings),
  };
}

const sitesIn = ({ site }: ProgrammeColumns, rows: readonly number[]): number =>
  new Set(rows.map((row) => site?.[row])).size;

/** "below 4 years" before "4 to below 5 years"; names without a number after them, by the alphabet. */
function inOrder(one: string, other: string): number {
  const place = (name: string) => {
    const number = Number(/\d+/.exec(name)?.[0] ?? Number.POSITIVE_INFINITY);
    return number - (/^(below|under|<)/.test(name) ? 0.5 : 0);
  };
  const [first, second] = [place(one), place(other)];
  return first === second ? one.localeCompare(other, "en", { numeric: true }) : first - second;
}

type Settings = NonNullable<Parameters<typeof describeProgramme>[1]> & {
  readonly level: number;
  readonly undecidable: UndecidablePolicy;
  /** Whether intervals go by site. */
  readonly bySite: boolean;
};

function groupOf(
  group: string,
  columns: ProgrammeColumns,
  rows: readonly number[],
  settings: Settings,
): ProgrammeGroup {
  const { level, undecidable } = settings;
  const counts = stepCounts(columns, rows, settings);
  const corrected = correctedOf(columns, rows, settings);
  const daysOf = daysAfterReferral(columns, rows, undecidable);
  const days = daysOf.map((row) => columns.daysToExam![row]);
  const quartile = (share: number) => quantileSorted(days, share);
  const ofSites = settings.bySite
    ? groupRows(
        "describeProgramme",
        rows.map((row) => columns.site![row]),
        rows.length,
        "site",
      ).map((part) =>
        stepCounts(
          columns,
          part.rows.map((at) => rows[at]),
          settings,
        ),
      )
    : null;
  return {
    group,
    counts,
    dayQuartiles: days.length === 0 ? null : [quartile(0.25), quartile(0.5), quartile(0.75)],
    corrected,
    measures: programmeMeasures({
      counts,
      ofSites,
      corrected,
      days: medianOf(days, level, settings.bySite ? daysOf.map((row) => columns.site![row]) : null),
      level,
    }),
  };
}

/** The programme's decision studied as if it were a rule: who it refers, and who it misses. */
function correctedOf(
  columns: ProgrammeColumns,
  rows: readonly number[],
  { level, undecidable, seed, replicates, refused, bySite }: Settings,
): CorrectedAccuracy {
  const screened = rows.filter((row) => columns.decision[row] !== "not-screened");
  const of = <Value>(column: ArrayLike<Value>) => screened.map((row) => column[row]);
  const { selfPresented, strata, shareDrawn } = columns;
  const recorded = of(columns.decision);
  return correctByDecision(
    {
      recorded,
      test: recorded.map((word) => (word === "unable" ? "undecidable" : word === "refer")),
      reference: of(columns.condition),
      reason: screened.map((row) =>
        columns.condition[row] === null ? "not-examined" : columns.reason[row],
      ),
      ...(selfPresented === undefined ? {} : { selfPresented: of(selfPresented) }),
      ...(strata === undefined ? {} : { strata: of(strata) }),
      ...(shareDrawn === undefined ? {} : { shareDrawn: of(shareDrawn) }),
      ...(bySite ? { clusters: { subject: screened, site: of(columns.site!) } } : {}),
    },
    { level, undecidable, seed, replicates, refused },
  );
}

/** The median by order statistics, of days in ascending order; over sites, if each has one. */
function medianOf(
  days: readonly number[],
  level: number,
  sites: Labels | null,
): Estimate | Undefined {
  if (days.length === 0) return undefinedBecause("no day of an exam is known");
  const ranked = { at: (rank: number) => days[rank - 1], n: days.length };
  const above = sites && clustersOf("describeProgramme", sites, days.length, "site");
  if (above?.count === 1) return undefinedBecause("all of one site: it gives no interval");
  const median = percentileLimit(
    above === null
      ? ranked
      : { ...ranked, clusters: above, differenceOf: (row) => days[row], sites: true },
    0.5,
    level,
  );
  if (median.kind !== "estimate") {
    return undefinedBecause(
      `of ${days.length === 1 ? "1 exam" : `${days.length} exams`} the days are known: too few for an interval of their median`,
    );
  }
  const { value, low, high, method } = median;
  return { kind: "estimate", value, low, high, level: median.level, method };
}

/** Pearson's test of each share of counts; of a single share and its complement alike. */
function sameInAll(
  groups: readonly ProgrammeGroup[],
  shareSites: boolean,
): ProgrammeGrouping["sameInAll"] {
  return groups[0].measures.flatMap(({ id, unit }, at) => {
    if (unit === "number" || groups.every(({ measures }) => measures[at].counted === null))
      return [];
    if (shareSites) return [{ id, test: undefinedBecause(noTestOverSites) }];
    const test = homogeneity(
      groups.map(({ measures }) => {
        const { counted, of } = measures[at];
        const [successes, size] = [counted ?? 0, of ?? 0];
        return { successes, size, value: size === 0 ? 0 : successes / size };
      }),
      "pearson",
    );
    return [{ id, test }];
  });
}

function notesOn(
  columns: ProgrammeColumns,
  { undecidable, withinDays }: Pick<Settings, "undecidable" | "withinDays">,
): string[] {
  const unable = {
    refer: "count as referred",
    pass: "count as passed",
    exclude: "count as neither",
  };
  return [
    `Children whom the programme was unable to read ${unable[undecidable]}.`,
    ...(columns.invited === undefined
      ? ["Who was asked is not recorded: the referred and the drawn passes are taken to have been."]
      : []),
    ...(columns.came === undefined
      ? ["Who came is not recorded: those whose exam is known are taken to have come."]
      : []),
    ...(withinDays === undefined ? [] : [`The time stated for an exam is ${withinDays} days.`]),
    columns.site === undefined
      ? "Children count as independent; within one school they may not be."
      : "Intervals go by site; those of single sites, and tests of equal sites, by child.",
  ];
}
