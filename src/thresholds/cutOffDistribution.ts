import { limitAt, type PositiveWhen, valueText } from "../rows/index.js";

/** How often a cut-off was chosen. */
export interface CutOffShare {
  /** null is "nobody". */
  readonly cutOff: number | null;
  readonly share: number;
}

/** Share of replicates (three numbers each, the candidate first) that chose each cut-off. */
export function cutOffDistribution(
  choices: Float64Array,
  cutOffs: readonly (number | null)[],
): CutOffShare[] {
  const times = new Int32Array(cutOffs.length);
  let used = 0;
  for (let at = 0; at < choices.length; at += 3) {
    if (Number.isNaN(choices[at])) continue;
    times[choices[at]]++;
    used++;
  }
  return cutOffs
    .map((cutOff, at) => ({ cutOff, share: times[at] / used }))
    .filter(({ share }) => share > 0);
}

/** The decision that a cut-off stands for, in words. */
export function decisionText(cutOff: number | null, positiveWhen: PositiveWhen): string {
  if (cutOff === null) return "nobody";
  return `${limitAt(cutOff, positiveWhen).relation} ${valueText(cutOff)}`;
}
