import { type Cohort, eyeOutcomes } from "../../cohort/index.js";
import type { StudyResult } from "./studyResult.js";

/** Study numbers of the children of a run, by how far they came; never part of a result. */
export interface ReleasedFrom {
  readonly known: readonly string[];
  readonly eligible: readonly string[];
  readonly compared: readonly string[];
}

const cohorts = new WeakMap<StudyResult, readonly Cohort["children"][]>();

/** Keeps of whom a result is, one cohort a sample. */
export function keepChildren(result: StudyResult, samples: readonly Cohort[]): void {
  cohorts.set(
    result,
    samples.map(({ children }) => children),
  );
}

/** The children that a result was made of, of both samples where there are two; undefined where it was read back from JSON. */
export function releasedFrom(result: StudyResult): ReleasedFrom | undefined {
  const samples = cohorts.get(result)?.map(releasedOf) ?? [];
  const whole = samples.flatMap((one) => one ?? []);
  if (samples.length === 0 || whole.length < samples.length) return undefined;
  const all = (step: keyof ReleasedFrom) => [...new Set(whole.flatMap((one) => one[step]))];
  return { known: all("known"), eligible: all("eligible"), compared: all("compared") };
}

function releasedOf(children: Cohort["children"]): ReleasedFrom | undefined {
  if (children.outcome === undefined) return undefined;
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
