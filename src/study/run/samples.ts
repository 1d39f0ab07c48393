import type { Cohort, Findings, Readings } from "../../cohort/index.js";
import { isLimit, type Protocol, type ProtocolCondition } from "../../protocol/index.js";
import { InputError, type RunOptions } from "../../results/index.js";
import { limitAt } from "../../rows/index.js";
import { analyseCondition } from "./analyseCondition.js";
import type { ConditionResult, StudyResult, ValidationSample } from "./studyResult.js";

/** One sample of a run, with what it was made of. */
export interface SampleRun {
  readonly result: StudyResult;
  readonly cohort: Cohort;
  readonly readings: Readings;
  readonly findings: Findings;
}

/**
 * Refuses samples that share a child: by files, a study number in both; by a column, rows of one child
 * with values of both.
 */
export function requireDisjoint(
  { samples }: Protocol,
  development: SampleRun,
  validation: SampleRun,
): void {
  if (samples === undefined) return;
  const shared =
    "by" in samples
      ? childrenOfBoth(development, samples)
      : sharedIds(development.cohort, validation.cohort);
  if (shared === 0) return;
  const children = shared === 1 ? "1 child" : `${shared} children`;
  throw new InputError(
    "by" in samples
      ? `runStudy requires samples of different children, got ${children} with rows of both in the column "${samples.by}"; give each child one value`
      : `runStudy requires samples of different children, got ${children} in the files of both; take them out of one, or name the samples by a column`,
  );
}

function sharedIds(one: Cohort, other: Cohort): number {
  const known = new Set(one.children.subject);
  return other.children.subject.filter((subject) => known.has(subject)).length;
}

function childrenOfBoth(
  { readings, findings }: SampleRun,
  { by, development, validation }: Extract<Protocol["samples"], { readonly by: string }>,
): number {
  const seen = new Map<string, Set<"development" | "validation">>();
  for (const { n, subject, own } of [readings, findings]) {
    const column = own?.find(({ label }) => label === by);
    if (column === undefined || column.type === "number") continue;
    for (let row = 0; row < n; row++) {
      const value = column.values.labels[column.values.codes[row]!]!;
      const sample = development.includes(value)
        ? "development"
        : validation.includes(value)
          ? "validation"
          : null;
      if (sample === null) continue;
      const child = subject.labels[subject.codes[row]!]!;
      const samples = seen.get(child) ?? new Set();
      seen.set(child, samples.add(sample));
    }
  }
  return [...seen.values()].filter((samples) => samples.size === 2).length;
}

/** The validation sample: the referral fixed in advance, and the limits that the development sample chose. */
export async function validationSample(
  protocol: Protocol,
  development: StudyResult,
  { result, cohort }: SampleRun,
  run: RunOptions & { readonly workers?: number },
): Promise<ValidationSample> {
  const chosen: ValidationSample["chosen"][number][] = [];
  for (const condition of protocol.conditions) {
    const limited = atChosenLimit(
      condition,
      development.conditions.find(({ id }) => id === condition.id)!,
    );
    if (limited === null) continue;
    const own = { ...result.protocol, conditions: [limited] };
    chosen.push(await analyseCondition(cohort, own, limited, run));
  }
  const { flow, problems, agreement, conditions, verdict, limitations } = result;
  return { flow, problems, agreement, conditions, chosen, verdict, limitations };
}

/** The condition at the limit that was chosen (weighted where passes were examined in part); null without one. */
function atChosenLimit(
  { choose, ...condition }: ProtocolCondition,
  { chosen, weighted, verification }: ConditionResult,
): ProtocolCondition | null {
  if (choose === undefined || !isLimit(condition.referWhen)) return null;
  const choice = verification === null ? chosen : weighted?.chosen;
  if (choice?.kind !== "threshold-choice" || choice.cutOff === null) return null;
  const { quantity } = condition.referWhen;
  return {
    ...condition,
    referWhen: { quantity, ...limitAt(choice.cutOff, choice.positiveWhen) },
  };
}
