import type { FlowBox, ParticipantFlow } from "../../cohort/index.js";
import { isSmallCount, shownTogether } from "../../privacy/index.js";
import { InputError } from "../../results/index.js";
import { within } from "../words.js";
import type { Audience } from "./points.js";

type Counts = Pick<FlowBox, "label" | "children" | "eyes">;

/** A box of the main line and what is left out after it. */
export interface FlowStep extends Counts {
  readonly excluded: readonly Counts[];
}

/** The main line from all to the last kept box; steps that leave nobody out are not drawn. */
export function flowSteps({ boxes }: ParticipantFlow, audience: Audience): readonly FlowStep[] {
  const first = boxes.find(({ role }) => role === "total");
  if (first === undefined) throw new InputError("flowFigure requires a total box, got none");
  const line: FlowBox[] = [first];
  for (let at: FlowBox | undefined = first; at !== undefined; ) {
    const from: string = at.id;
    at = boxes.find(({ role, partOf }) => role === "kept" && partOf === from);
    if (at !== undefined) line.push(at);
  }
  const steps = line.map((box) => ({
    ...counts(box),
    excluded: boxes
      .filter(({ role, partOf }) => role === "excluded" && partOf === box.id)
      .filter(({ children, eyes }) => children > 0 || eyes > 0)
      .map(counts),
  }));
  const drawn = withoutEmptySteps(steps);
  return audience === "journal" ? drawn : pooledSteps(drawn);
}

function counts({ label, children, eyes }: Counts): Counts {
  return { label, children, eyes };
}

/** A kept box that equals the one above is drawn under the later name only. */
function withoutEmptySteps(steps: readonly FlowStep[]): FlowStep[] {
  return steps.filter(({ excluded }, at) => excluded.length > 0 || at === steps.length - 1);
}

/**
 * The boxes that may be shown together, then small reasons joined within each step. A box that is not
 * shown hands its reasons to the one above; where it is the last one, those in it are among the reasons.
 */
function pooledSteps(steps: readonly FlowStep[]): readonly FlowStep[] {
  const [first] = steps;
  const end = steps.length - 1;
  const shown = shownTogether(
    steps.map(({ children, eyes }) => [children, eyes]),
    [first!.children, first!.eyes],
    { first: [end] },
  );
  const pooled: FlowStep[] = [];
  for (const [at, step] of steps.entries()) {
    const above = pooled.at(-1);
    if (above === undefined || shown[at]) {
      pooled.push(step);
      continue;
    }
    const own = at === end ? [counts(step)] : [];
    const excluded = [...above.excluded, ...step.excluded, ...own];
    pooled[pooled.length - 1] = { ...above, excluded };
  }
  const steady = pooled.map((step) => ({ ...step, excluded: pooledReasons(step.excluded) }));
  return [...steady.slice(0, -1), alone(steady.at(-1)!)];
}

/** Reasons at the end that had to be joined into the whole box say nothing of it. */
function alone(step: FlowStep): FlowStep {
  const [only, ...others] = step.excluded;
  const isWhole =
    others.length === 0 && only?.children === step.children && only.eyes === step.eyes;
  return isWhole ? { ...step, excluded: [] } : step;
}

function pooledReasons(reasons: readonly Counts[]): readonly Counts[] {
  const kept = reasons.filter((reason) => !isSmall(reason));
  const small = reasons.filter(isSmall);
  while (small.length > 0 && isSmall(sum(small)) && kept.length > 0) {
    const least = kept.reduce((a, b) => (b.children < a.children ? b : a));
    kept.splice(kept.indexOf(least), 1);
    small.push(least);
  }
  if (small.length === 0) return kept;
  const label = small.map(({ label }, at) => (at === 0 ? label : within(label))).join("; ");
  return [...kept, { ...sum(small), label }];
}

function sum(parts: readonly Counts[]): Counts {
  return {
    label: "",
    children: parts.reduce((total, { children }) => total + children, 0),
    eyes: parts.reduce((total, { eyes }) => total + eyes, 0),
  };
}

function isSmall({ children, eyes }: Counts): boolean {
  return isSmallCount(children) || isSmallCount(eyes);
}
