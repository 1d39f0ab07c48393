import { type Audience, mayShow } from "../privacy/index.js";
import type { ProgrammeGroup } from "./describeProgramme.js";
import type { ProgrammeMeasure, ProgrammeMeasureId } from "./programmeMeasures.js";
import type { StepCounts } from "./stepCounts.js";

/**
 * Which figures an audience may see of some groups: for the public none behind which a count of any of
 * the groups is small, or would follow from other figures as a difference. A figure is shown of all
 * groups or of none, so that no group follows from the others and the whole.
 */
export function shownMeasures(
  groups: readonly ProgrammeGroup[],
  audience: Audience,
): ReadonlySet<ProgrammeMeasureId> {
  const measures = groups[0]?.measures ?? [];
  const isShown = (_: unknown, at: number) =>
    groups.every((group) => mayShow(behind(group.measures[at], group), audience));
  return new Set(measures.filter(isShown).map(({ id }) => id));
}

/** The counts that a figure gives back, alone or with the others. */
function behind({ id, counted, of }: ProgrammeMeasure, group: ProgrammeGroup): number[] {
  const { counts, corrected } = group;
  const own = counted === null || of === null ? [] : [counted, Math.abs(of - counted)];
  const more = beside[id];
  return more === undefined
    ? [...own, ...exams(counts), ...Object.values(corrected.bounds.counts.verified)]
    : [...own, ...more(counts)];
}

/** Besides a figure's own two counts; figures that are not named here rest on what exams found. */
const beside: { readonly [id: string]: ((counts: StepCounts) => number[]) | undefined } = {
  screened: () => [],
  rescreened: () => [],
  unableAtFirst: ({ screened, firstKnown }) => [screened - (firstKnown ?? screened)],
  unable: ({ referred, unable }) => [Math.abs(referred - unable)],
  referred: ({ screened, referred, passed }) => [passed, screened - referred - passed],
  invited: ({ invited, invitedReferred, invitedPasses }) => [
    invitedReferred,
    invitedPasses,
    invited - invitedReferred - invitedPasses,
  ],
  followUp: ({ referred, invitedReferred }) => [referred - invitedReferred],
  passesCame: ({ cameUnasked }) => [cameUnasked],
  daysToExam: ({ daysKnown, came }) => [daysKnown ?? 0, Math.abs(came - (daysKnown ?? came))],
  withinDays: ({ daysKnown, came }) => [Math.abs(came - (daysKnown ?? came))],
  departures: ({ referredAgainst, passedAgainst, screened, compared }) => [
    referredAgainst ?? 0,
    passedAgainst ?? 0,
    screened - (compared ?? screened),
  ],
};

/** What exams found, of the referred and of the others, and who came without an answer. */
const exams = (counts: StepCounts): number[] => [
  counts.found,
  counts.examined - counts.found,
  Math.abs(counts.came - counts.examined),
  counts.foundOthers,
  counts.examinedOthers - counts.foundOthers,
];
