import type { ValueCounts } from "../countByValue.js";

/** How a row of each distinct value stands against the other class; ties count one half. */
export interface Placements {
  readonly area: number;
  /** Share of rows without the condition that a row with it outranks (DeLong's V10). */
  readonly ofCases: Float64Array;
  /** Share of rows with the condition that outrank a row without it (DeLong's V01). */
  readonly ofControls: Float64Array;
}

/** The area under the curve and its structural components (DeLong and others 1988) from counts. */
export function placements(counts: ValueCounts): Placements {
  const { withCondition, withoutCondition, totalWith, totalWithout } = counts;
  const cells = withCondition.length;
  const ofCases = new Float64Array(cells);
  const ofControls = new Float64Array(cells);
  let casesBefore = 0;
  let controlsBefore = 0;
  let wins = 0;
  for (let cell = 0; cell < cells; cell++) {
    const outranked = totalWithout - controlsBefore - withoutCondition[cell] / 2;
    ofCases[cell] = outranked / totalWithout;
    ofControls[cell] = (casesBefore + withCondition[cell] / 2) / totalWith;
    wins += withCondition[cell] * outranked;
    casesBefore += withCondition[cell];
    controlsBefore += withoutCondition[cell];
  }
  return { area: wins / (totalWith * totalWithout), ofCases, ofControls };
}
