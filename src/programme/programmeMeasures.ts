import { type CorrectedAccuracy, examsOverCases, referralYield } from "../accuracy/index.js";
import { proportionInterval, siteShare } from "../inference/index.js";
import {
  type Estimate,
  linearEstimate,
  type Undefined,
  undefinedBecause,
} from "../results/index.js";
import type { StepCounts } from "./stepCounts.js";

/** One figure of a programme. */
export interface ProgrammeMeasure {
  readonly id: ProgrammeMeasureId;
  readonly words: string;
  readonly unit: "share" | "per-1000" | "number" | "days";
  /** Children counted, and out of how many; null where a figure is no share of counts. */
  readonly counted: number | null;
  readonly of: number | null;
  readonly estimate: Estimate | Undefined;
}

/** Short stable name of a figure of a programme. */
export type ProgrammeMeasureId =
  | (typeof shares)[number]["id"]
  | keyof typeof otherFigures
  | typeof examinedOfReferred.id
  | (typeof correctedFigures)[number]["id"];

type Count = keyof StepCounts;
interface ShareFigure {
  readonly id: string;
  readonly words: string;
  readonly counted: Count;
  readonly of: Count;
  readonly unit?: "per-1000";
}

/** Shares of counts, in the order in which a programme passes through them. */
export const shares = [
  { id: "screened", words: "Screened, of the eligible", counted: "screened", of: "eligible" },
  { id: "rescreened", words: "Screened again", counted: "rescreened", of: "screened" },
  {
    id: "unableAtFirst",
    words: "Unable at the first attempt",
    counted: "unableAtFirst",
    of: "firstKnown",
  },
  { id: "unable", words: "Unable in the end", counted: "unable", of: "screened" },
  { id: "referred", words: "Referred", counted: "referred", of: "screened" },
  { id: "invited", words: "Asked to an exam", counted: "invited", of: "screened" },
  {
    id: "followUp",
    words: "Came, of those asked after a referral (follow-up rate)",
    counted: "came",
    of: "invitedReferred",
  },
  {
    id: "passesCame",
    words: "Came, of the passes that were drawn",
    counted: "passesCame",
    of: "invitedPasses",
  },
  {
    id: "withinDays",
    words: "Examined within the time stated",
    counted: "withinDays",
    of: "daysKnown",
  },
  {
    id: "found",
    words: "Cases found per 1000 screened",
    counted: "found",
    of: "screened",
    unit: "per-1000",
  },
  {
    id: "predictiveValue",
    words: "With the condition, of the referred who were examined (predictive value)",
    counted: "found",
    of: "examined",
  },
  {
    id: "departures",
    words: "Decisions that depart from the declared rule",
    counted: "departures",
    of: "compared",
  },
] as const satisfies readonly ShareFigure[];

/** Figures that are no share of counts. */
export const otherFigures = {
  daysToExam: {
    id: "daysToExam",
    words: "Days from screening to exam, of the referred who came, median",
    unit: "days",
  },
  examsPerCase: {
    id: "examsPerCase",
    words: "Exams of the referred per case found",
    unit: "number",
  },
} as const;

/** For the public, where who came cannot be told from whose exam gave an answer. */
export const examinedOfReferred = {
  id: "examined",
  words: "With an exam that decides, of the referred, asked or not",
  unit: "share",
} as const;

/** Figures that the examined give for everybody, standing for the unexamined. */
export const correctedFigures = [
  {
    id: "correctedYield",
    words: "Cases per 1000 screened, if every referral were examined",
    of: ({ yieldPer1000 }: CorrectedAccuracy) => yieldPer1000,
    unit: "per-1000",
  },
  {
    id: "correctedPredictiveValue",
    words: "Predictive value, corrected for who was examined",
    of: ({ positivePredictiveValue }: CorrectedAccuracy) => positivePredictiveValue,
    unit: "share",
  },
  {
    id: "missed",
    words: "Missed per 1000 who passed, corrected for who was examined",
    of: ({ negativePredictiveValue }: CorrectedAccuracy) =>
      linearEstimate(negativePredictiveValue, -1000, 1000),
    unit: "per-1000",
  },
  {
    id: "prevalence",
    words: "Prevalence per 1000 screened, corrected for who was examined",
    of: ({ prevalence }: CorrectedAccuracy) => linearEstimate(prevalence, 1000),
    unit: "per-1000",
  },
  {
    id: "sensitivity",
    words: "Sensitivity of the programme's decision, corrected for who was examined",
    of: ({ sensitivity }: CorrectedAccuracy) => sensitivity,
    unit: "share",
  },
  {
    id: "specificity",
    words: "Specificity of the programme's decision, corrected for who was examined",
    of: ({ specificity }: CorrectedAccuracy) => specificity,
    unit: "share",
  },
] as const;

/** Why a share has no counts. */
const notRecorded: { readonly [id: string]: string } = {
  rescreened: "attempts are not recorded",
  unableAtFirst: "the first attempt is not recorded",
  withinDays: "days are not recorded, or no time was stated",
  departures: "the programme's rule is not declared, or its decision not recorded",
};

/**
 * Every figure of some children, from their counts, the days to their exam and the correction.
 *
 * @param source `ofSites`: the counts of each site, where intervals go by site
 */
export function programmeMeasures(source: {
  readonly counts: StepCounts;
  readonly ofSites: readonly StepCounts[] | null;
  readonly corrected: CorrectedAccuracy;
  readonly days: Estimate | Undefined;
  readonly level: number;
}): ProgrammeMeasure[] {
  const { counts, ofSites, corrected, days, level } = source;
  const measures = shares.map((figure: ShareFigure & { id: ProgrammeMeasureId }) =>
    shareOf(figure, source),
  );
  const place = measures.findIndex(({ id }) => id === "withinDays");
  const examsPerCase =
    ofSites === null
      ? referralYield({ ...counts, withCondition: counts.found }, { level }).referredPerCase
      : examsOverCases(siteShareOf(ofSites, "found", "examined", level));
  return [
    ...measures.slice(0, place),
    {
      ...otherFigures.daysToExam,
      counted: null,
      of: counts.daysKnown,
      estimate: days,
    },
    ...measures.slice(place, -1),
    {
      ...otherFigures.examsPerCase,
      counted: counts.examined,
      of: counts.found,
      estimate: examsPerCase,
    },
    ...correctedFigures.map(({ id, words, of, unit }) => ({
      id,
      words,
      unit,
      counted: null,
      of: null,
      estimate: of(corrected),
    })),
    measures.at(-1)!,
  ];
}

function shareOf(
  { id, words, counted, of, unit }: ShareFigure & { readonly id: ProgrammeMeasureId },
  {
    counts,
    ofSites,
    level,
  }: Pick<Parameters<typeof programmeMeasures>[0], "counts" | "ofSites" | "level">,
): ProgrammeMeasure {
  const [successes, trials] = [counts[counted], counts[of]];
  const share =
    successes === null || trials === null
      ? undefinedBecause(notRecorded[id])
      : ofSites === null || trials === 0
        ? proportionInterval({ successes, trials }, { level })
        : siteShareOf(ofSites, counted, of, level);
  return {
    id,
    words,
    unit: unit ?? "share",
    counted: successes,
    of: trials,
    estimate: unit === undefined ? share : linearEstimate(share, 1000),
  };
}

const siteShareOf = (ofSites: readonly StepCounts[], counted: Count, of: Count, level: number) =>
  siteShare(
    {
      successes: ofSites.map((counts) => counts[counted] ?? 0),
      rows: ofSites.map((counts) => counts[of] ?? 0),
    },
    level,
  );
