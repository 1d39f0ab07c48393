import { type Cohort, eyeOutcomes } from "../../cohort/index.js";
import type { StudyResult } from "./studyResult.js";

/** Study numbers of the children of a run, by how far they came; never part of a result. */
export interface ReleasedFrom {
  readonly known: readonly string[];
  readonly eligible: readonly string[];
  readonly compared: readonly string[];
}

const cohorts = new WeakMap<StudyResult, Cohort["children"]>();

export function keepChildren(result: StudyResult, { children }: Cohort): void {
  cohorts.set(result, children);
}

/** The children that a result was made of; undefined where it was read back from JSON. */
export function releasedFrom(result: StudyResult): ReleasedFrom | undefined {
  const children = cohorts.get(result);
  if (children?.outcome === undefined) return undefined;
  const { right, left } = children.outcome;
  const eligible = eyeOutcomes.indexOf("age-unclear") + 1;
  const from = (least: number) =>
    children.subject.filter((_, child) =>
      [right[child], left[child]].some((code) => code >= least && code < eyeOutcomes.length),
    );
  return {
    known: children.subject,
    eligible: from(eligible),
    compared: from(eyeOutcomes.indexOf("paired")),
  };
}
