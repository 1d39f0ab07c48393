import { InputError } from "../results/index.js";
import type { Audience } from "./audience.js";
import { shownTogether } from "./shownTogether.js";
import { isSmallCount } from "./smallCounts.js";

/** A number of children and eyes: all, kept of those in the box before, or left out of them. */
interface Box {
  readonly id: string;
  readonly label: string;
  readonly partOf: string | null;
  readonly role: "total" | "kept" | "excluded";
  readonly children: number;
  readonly eyes: number;
}

/** Who is left out, by one reason or by several that are counted together. */
export interface LeftOut {
  readonly labels: readonly string[];
  readonly children: number;
  readonly eyes: number;
}

/** A box of the main line and what is left out after it. */
export interface FlowStep {
  readonly label: string;
  readonly children: number;
  readonly eyes: number;
  readonly excluded: readonly LeftOut[];
}

/**
 * The main line of a participant flow from all to the last kept box, without steps that leave nobody
 * out; for the public with small numbers joined.
 *
 * @throws when no box holds everybody
 */
export function flowSteps(
  { boxes }: { readonly boxes: readonly Box[] },
  audience: Audience,
): readonly FlowStep[] {
  const first = boxes.find(({ role }) => role === "total");
  if (first === undefined) throw new InputError("flowSteps requires a total box, got none");
  const line: Box[] = [first];
  for (let at: Box | undefined = first; at !== undefined; ) {
    const from: string = at.id;
    at = boxes.find(({ role, partOf }) => role === "kept" && partOf === from);
    if (at !== undefined) line.push(at);
  }
  const steps = line.map(({ id, label, children, eyes }) => ({
    label,
    children,
    eyes,
    excluded: boxes
      .filter(({ role, partOf }) => role === "excluded" && partOf === id)
      .filter(({ children, eyes }) => children > 0 || eyes > 0)
      .map(leftOut),
  }));
  const drawn = withoutEmptySteps(steps);
  return audience === "journal" ? drawn : pooledSteps(drawn);
}

function leftOut({ label, children, eyes }: Omit<FlowStep, "excluded">): LeftOut {
  return { labels: [label], children, eyes };
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
    const own = at === end ? [leftOut(step)] : [];
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

function pooledReasons(reasons: readonly LeftOut[]): readonly LeftOut[] {
  const kept = reasons.filter((reason) => !isSmall(reason));
  const small = reasons.filter(isSmall);
  while (small.length > 0 && isSmall(sum(small)) && kept.length > 0) {
    const least = kept.reduce((a, b) => (b.children < a.children ? b : a));
    kept.splice(kept.indexOf(least), 1);
    small.push(least);
  }
  return small.length === 0 ? kept : [...kept, sum(small)];
}

function sum(parts: readonly LeftOut[]): LeftOut {
  return {
    labels: parts.flatMap(({ labels }) => labels),
    children: parts.reduce((total, { children }) => total + children, 0),
    eyes: parts.reduce((total, { eyes }) => total + eyes, 0),
  };
}

function isSmall({ children, eyes }: Omit<LeftOut, "labels">): boolean {
  return isSmallCount(children) || isSmallCount(eyes);
}
