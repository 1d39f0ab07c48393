import { InputError } from "../../results/index.js";
import { type Cohort, type Eye, type EyeOutcome, eyeOutcomes } from "../types.js";
import { drawnEye } from "./drawnEye.js";
import { unknownEye } from "./flow.js";

/** Which eyes of a child are taken. */
export interface ChosenEyes {
  /**
   * "random" is one eye a child: of two complete eyes one is drawn from `seed` and the child's
   * identifier, the same for any order of rows; where one is complete, that one.
   */
  readonly eyes: "right" | "left" | "both" | "random";
  /** Integer; required for "random", never chosen silently. */
  readonly seed?: number;
}

/** Eyes, and children, that are not among the pairs, for one reason. */
export interface Excluded {
  readonly reason: EyeOutcome;
  /** Children who are with no eye among the pairs and whose furthest eye has this reason. */
  readonly children: number;
  readonly eyes: number;
}

/** Eyes with a reading and a finding, as places in the cohort's columns, in the order of the children. */
interface PairedEyes {
  /** Position of the child in `cohort.children`. */
  readonly subjects: readonly number[];
  readonly sides: readonly Eye[];
  readonly readingRows: readonly number[];
  readonly findingRows: readonly number[];
  readonly excluded: readonly Excluded[];
}

/** Values of every reading and of every finding, NaN where one cannot be had. */
interface WantedValues {
  readonly test: ArrayLike<number>;
  readonly reference: ArrayLike<number>;
}

/** The eyes in which reading and finding have all that is wanted, and a count of the others by reason. */
export function pairedEyes(
  caller: string,
  { children, findings }: Cohort,
  wanted: readonly WantedValues[],
  { eyes, seed }: ChosenEyes,
): PairedEyes {
  const sides = sidesOf(caller, eyes);
  const drawn = eyes === "random" ? drawnEye(seed, caller) : null;
  const subjects: number[] = [];
  const chosenSides: Eye[] = [];
  const readingRows: number[] = [];
  const findingRows: number[] = [];
  const reasons = new Map<EyeOutcome, { children: number; eyes: number }>();
  for (let child = 0; child < children.n; child++) {
    let furthest = -1;
    let paired = false;
    const first = subjects.length;
    for (const side of sides) {
      const reached = outcomeOf(child, side);
      if (reached === unknownEye) continue;
      const readingRow = children.readingRow[side][child];
      const findingRow = children.findingRow[side][child];
      const outcome = refined(reached, readingRow, findingRow);
      if (eyeOutcomes[outcome] === "paired") {
        subjects.push(child);
        chosenSides.push(side);
        readingRows.push(readingRow);
        findingRows.push(findingRow);
        paired = true;
      } else {
        count(outcome).eyes++;
        furthest = Math.max(furthest, outcome);
      }
    }
    if (drawn !== null && subjects.length === first + 2) {
      const other = first + 1 - drawn(children.subject[child]);
      for (const list of [subjects, chosenSides, readingRows, findingRows]) list.splice(other, 1);
    }
    if (!paired && furthest >= 0) count(furthest).children++;
  }
  return {
    subjects,
    sides: chosenSides,
    readingRows,
    findingRows,
    excluded: eyeOutcomes.flatMap((reason) => {
      const counts = reasons.get(reason);
      return counts === undefined ? [] : [{ reason, ...counts }];
    }),
  };

  function outcomeOf(child: number, side: Eye): number {
    if (children.outcome === undefined) {
      throw new InputError(
        `${caller} requires a cohort made by linkCohort, got one without outcomes`,
      );
    }
    return children.outcome[side][child];
  }

  /** The flow is about M computed; this asks for the values of this call. */
  function refined(reached: number, readingRow: number, findingRow: number): number {
    if (reached < eyeOutcomes.indexOf("finding-incomplete")) return reached;
    if (wanted.some(({ test }) => Number.isNaN(test[readingRow]))) {
      return eyeOutcomes.indexOf("reading-incomplete");
    }
    const missing = wanted.some(({ reference }) => Number.isNaN(reference[findingRow]));
    return eyeOutcomes.indexOf(
      missing || findings.status.codes[findingRow] !== 0 ? "finding-incomplete" : "paired",
    );
  }

  function count(outcome: number) {
    const reason = eyeOutcomes[outcome];
    let counts = reasons.get(reason);
    if (counts === undefined) {
      counts = { children: 0, eyes: 0 };
      reasons.set(reason, counts);
    }
    return counts;
  }
}

function sidesOf(caller: string, eyes: ChosenEyes["eyes"]): readonly Eye[] {
  if (eyes === "both" || eyes === "random") return ["right", "left"];
  if (eyes === "right" || eyes === "left") return [eyes];
  throw new InputError(
    `${caller} requires eyes "right", "left", "both" or "random", got "${eyes}"`,
  );
}
