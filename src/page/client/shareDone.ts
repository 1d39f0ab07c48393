/** Which part of a whole run a stage is; all else is the study itself. */
const parts: { readonly [stage: string]: readonly [from: number, to: number] } = {
  done: [0.7, 0.7],
  "drawing the figures": [0.7, 0.9],
  "writing the report": [0.9, 1],
};

/** How far a run is, figures and report included, by its stage and how far that is. */
export function shareDone(stage: string, done: number): number {
  const [from, to] = parts[stage] ?? [0, 0.7];
  return from + done * (to - from);
}
