import type { FlowBox, ParticipantFlow } from "../cohort/types.js";
import { isSmallCount } from "../privacy/index.js";
import { InputError } from "../results/index.js";
import type { Audience } from "./points.js";
import { within } from "./words.js";

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

/** Steps joined until each leaves out enough, then small reasons joined within each. */
function pooledSteps(steps: readonly FlowStep[]): readonly FlowStep[] {
  const pooled: FlowStep[] = [];
  for (const step of steps) {
    const before = pooled.at(-1);
    const joins =
      before !== undefined && before.excluded.length > 0 && isSmall(sum(before.excluded));
    if (joins) {
      const isEnd = step === steps.at(-1);
      pooled[pooled.length - 1] = { ...before, excluded: [...before.excluded, ...step.excluded] };
      if (isEnd && step.excluded.length === 0) pooled.push(step);
    } else pooled.push(step);
  }
  const last = pooled.at(-1)!;
  const parent = pooled.at(-2);
  if (parent !== undefined && pooled.length > 2 && isSmall(sum(parent.excluded))) {
    const above = pooled.at(-3)!;
    pooled.splice(-3, 3, { ...above, excluded: [...above.excluded, ...parent.excluded] }, last);
  }
  return pooled.map((step) => ({ ...step, excluded: pooledReasons(step.excluded) }));
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
