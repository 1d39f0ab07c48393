import { sum } from "../../rows/index.js";
import {
  type ChildColumns,
  type EyeOutcome,
  eyeOutcomes,
  type FlowBox,
  type ParticipantFlow,
} from "../types.js";

export const unknownEye = 255;

/** A box of a flow, of outcomes in the order of the way. */
export interface FlowStep<Outcome extends string> {
  readonly id: string;
  readonly label: string;
  readonly partOf: string | null;
  /** The first outcome that is not beyond this box; an excluded box is one outcome. */
  readonly from: Outcome;
  readonly role: FlowBox["role"];
}
type Step = FlowStep<EyeOutcome>;

// the boxes of the diagram of STARD 2015 (Bossuyt and others, BMJ 351:h5527), each as outcomes
const steps: readonly Step[] = [
  total("all", "In either file", "exam-only"),
  excluded("exam-only", "In the exam file only: no reading has that number", "all"),
  excluded("not-eligible", "Not eligible by age", "all"),
  excluded("age-unclear", "Age missing, or known too coarsely for the age limits", "all"),
  kept("eligible", "Eligible", "all", "no-reading"),
  excluded("no-reading", "No reading by this instrument", "eligible"),
  kept("screened", "With a reading or an attempt", "eligible", "not-attempted"),
  excluded("not-attempted", "Not attempted", "screened"),
  excluded("unreadable", "Unreadable", "screened"),
  excluded("over-range", "Above the instrument's range", "screened"),
  excluded("under-range", "Below the instrument's range", "screened"),
  excluded("low-confidence", "Confidence below the cut-off", "screened"),
  excluded("reading-incomplete", "Reading incomplete", "screened"),
  kept("read", "With a usable reading", "screened", "pending"),
  excluded("pending", "Exam pending", "read"),
  excluded("lost", "No exam finding", "read"),
  excluded("before-screening", "Exam before screening", "read"),
  excluded("outside-window", "Exam outside the window of days", "read"),
  excluded("other-cycloplegia", "Exam in a state of cycloplegia that is no reference", "read"),
  kept("examined", "Examined", "read", "finding-unusable"),
  excluded("finding-unusable", "Finding not usable", "examined"),
  excluded("finding-incomplete", "Finding incomplete", "examined"),
  kept("paired", "Reading and finding paired", "examined", "paired"),
];

/**
 * Counts the boxes of the participant flow. An eye is in one outcome; a child is where its furthest
 * eye is. Every box is a count of outcomes, so the parts of a box add up to it.
 *
 * @param byMoreThanAge whether eligibility is not by age alone
 */
export function participantFlow(
  outcome: NonNullable<ChildColumns["outcome"]>,
  byMoreThanAge = false,
): ParticipantFlow {
  const words = (step: Step) =>
    byMoreThanAge && step.id === "not-eligible" ? { ...step, label: "Not eligible" } : step;
  return flowOf(eyeOutcomes, steps.map(words), outcome);
}

/** Counts the boxes of a flow whose outcomes stand in the order of the way. */
export function flowOf<Outcome extends string>(
  outcomes: readonly Outcome[],
  steps: readonly FlowStep<Outcome>[],
  { right, left }: NonNullable<ChildColumns["outcome"]>,
): ParticipantFlow {
  const eyes = new Array<number>(outcomes.length).fill(0);
  const children = new Array<number>(outcomes.length).fill(0);
  for (let child = 0; child < right.length; child++) {
    let furthest = -1;
    for (const code of [right[child], left[child]]) {
      if (code === unknownEye) continue;
      eyes[code]++;
      furthest = Math.max(furthest, code);
    }
    if (furthest >= 0) children[furthest]++;
  }
  const boxes = steps.map(({ id, label, partOf, role, from }): FlowBox => {
    const start = outcomes.indexOf(from);
    const end = role === "excluded" ? start + 1 : outcomes.length;
    return {
      id,
      label,
      children: sum(children.slice(start, end)),
      eyes: sum(eyes.slice(start, end)),
      partOf,
      role,
    };
  });
  return { kind: "flow", boxes };
}

function total(id: string, label: string, from: EyeOutcome): Step {
  return { id, label, partOf: null, from, role: "total" };
}

function kept(id: string, label: string, partOf: string, from: EyeOutcome): Step {
  return { id, label, partOf, from, role: "kept" };
}

function excluded(id: EyeOutcome, label: string, partOf: string): Step {
  return { id, label, partOf, from: id, role: "excluded" };
}
