import { type ForAudience, InputError, jointAudience } from "../../results/index.js";
import {
  type Cohort,
  type EquivalentSource,
  type Eye,
  type EyeOutcome,
  eyeOutcomes,
} from "../types.js";
import { drawnEye } from "./drawnEye.js";
import { type Quantity, quantityColumns } from "./eyeQuantity.js";
import { unknownEye } from "./flow.js";
import { type OwnValues, ownOfPairs } from "./ownValues.js";

export interface EyePairOptions {
  /**
   * "random" is one eye a child: of two complete eyes one is drawn from `seed` and the child's
   * identifier, the same for any order of rows; where one is complete, that one.
   */
  readonly eyes: "right" | "left" | "both" | "random";
  /** Integer; required for "random", never chosen silently. */
  readonly seed?: number;
  readonly quantity?: Quantity;
  /** Spheres at which the instrument's range ends; readings there are marked in `endOfRange`. */
  readonly sphereRange?: readonly [number, number];
  /** The finding's M from sphere and cylinder, or as the file states it; by default as the cohort was linked. */
  readonly referenceEquivalent?: EquivalentSource;
}

/** Eyes, and children, that are not among the pairs, for one reason. */
export interface Excluded {
  readonly reason: EyeOutcome;
  /** Children who are with no eye among the pairs and whose furthest eye has this reason. */
  readonly children: number;
  readonly eyes: number;
}

/** Test and reference of each eye, as columns of one row an eye. */
export interface EyePairs extends ForAudience {
  readonly kind: "eye-pairs";
  /** Pairs, which are eyes. */
  readonly n: number;
  readonly children: number;
  readonly eyes: EyePairOptions["eyes"];
  /** Only where eyes were drawn. */
  readonly seed?: number;
  readonly quantity: Quantity;
  readonly referenceEquivalent: EquivalentSource;
  /** Only where the reading's M is as its file states it. */
  readonly readingEquivalent?: "stated";
  readonly test: Float64Array;
  readonly reference: Float64Array;
  /** Position of the child in `cohort.children`, not the file's identifier. */
  readonly subjects: Int32Array;
  readonly eye: readonly Eye[];
  /** 1 where the reading's sphere lies at an end of the stated range or beyond. */
  readonly endOfRange?: Uint8Array;
  /** Columns of the user's own, by label, of the reading and of the finding of each pair. */
  readonly own?: {
    readonly reading: Readonly<Record<string, OwnValues>>;
    readonly finding: Readonly<Record<string, OwnValues>>;
  };
  readonly excluded: readonly Excluded[];
}

/**
 * The reading and the finding of every eye that has both, in the order of the children, with a count
 * of who is not there and why. Left eyes are not mirrored: J45 of both eyes is not to be pooled as
 * it is.
 *
 * @throws InputError for a stated equivalent that the findings do not have, and for random eyes
 *   without a seed
 * @example
 * const eye = { subject: "a", eye: "OD", sphere: -1, cylinder: -0.5, axis: 180 };
 * const cohort = linkCohort({ readings: await readReadings([eye]), findings: await readFindings([eye]) });
 * eyePairs(cohort, { eyes: "both" }).test[0] // => -1.25
 */
export function eyePairs(cohort: Cohort, options: EyePairOptions): EyePairs {
  const { quantity = "M" } = options;
  const linked = quantity === "M" ? cohort.choices : undefined;
  const referenceEquivalent =
    options.referenceEquivalent ?? linked?.referenceEquivalent ?? "computed";
  const sides = sidesOf(options.eyes);
  const drawn = options.eyes === "random" ? drawnEye(options.seed) : null;
  const { children, findings } = cohort;
  const values = quantityColumns(cohort, quantity, referenceEquivalent);
  const test: number[] = [];
  const reference: number[] = [];
  const subject: number[] = [];
  const eye: Eye[] = [];
  const readingRows: number[] = [];
  const findingRows: number[] = [];
  const reasons = new Map<EyeOutcome, { children: number; eyes: number }>();
  for (let child = 0; child < children.n; child++) {
    let furthest = -1;
    let paired = false;
    const first = test.length;
    for (const side of sides) {
      const reached = outcomeOf(child, side);
      if (reached === unknownEye) continue;
      const readingRow = children.readingRow[side][child];
      const findingRow = children.findingRow[side][child];
      const outcome = refined(reached, readingRow, findingRow);
      if (eyeOutcomes[outcome] === "paired") {
        test.push(values.test[readingRow]);
        reference.push(values.reference[findingRow]);
        subject.push(child);
        eye.push(side);
        readingRows.push(readingRow);
        findingRows.push(findingRow);
        paired = true;
      } else {
        count(outcome).eyes++;
        furthest = Math.max(furthest, outcome);
      }
    }
    if (drawn !== null && test.length === first + 2) {
      const other = first + 1 - drawn(children.subject[child]);
      for (const list of [test, reference, subject, eye, readingRows, findingRows]) {
        list.splice(other, 1);
      }
    }
    if (!paired && furthest >= 0) count(furthest).children++;
  }
  const own = ownOfPairs(cohort, readingRows, findingRows);
  return {
    kind: "eye-pairs",
    ...jointAudience(cohort),
    n: test.length,
    children: new Set(subject).size,
    eyes: options.eyes,
    ...(drawn === null ? {} : { seed: options.seed }),
    quantity,
    referenceEquivalent,
    ...(linked?.readingEquivalent === "stated" ? { readingEquivalent: "stated" as const } : {}),
    test: Float64Array.from(test),
    reference: Float64Array.from(reference),
    subjects: Int32Array.from(subject),
    eye,
    ...(options.sphereRange === undefined
      ? {}
      : { endOfRange: atEnds(cohort, readingRows, options.sphereRange) }),
    ...(own === undefined ? {} : { own }),
    excluded: eyeOutcomes.flatMap((reason) => {
      const counts = reasons.get(reason);
      return counts === undefined ? [] : [{ reason, ...counts }];
    }),
  };

  function outcomeOf(child: number, side: Eye): number {
    if (children.outcome === undefined) {
      throw new InputError(
        "eyePairs requires a cohort made by linkCohort, got one without outcomes",
      );
    }
    return children.outcome[side][child];
  }

  /** The flow is about M computed; this asks for the quantity and the equivalent of this call. */
  function refined(reached: number, readingRow: number, findingRow: number): number {
    if (reached < eyeOutcomes.indexOf("finding-incomplete")) return reached;
    if (Number.isNaN(values.test[readingRow])) return eyeOutcomes.indexOf("reading-incomplete");
    const missing = Number.isNaN(values.reference[findingRow]);
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

function atEnds(
  { readings }: Cohort,
  rows: readonly number[],
  [least, most]: readonly [number, number],
): Uint8Array {
  if (!(least < most)) {
    throw new InputError(`eyePairs requires an ascending sphereRange, got ${least} to ${most}`);
  }
  return Uint8Array.from(rows, (row) => {
    const sphere = readings.sphere[row];
    return sphere <= least || sphere >= most ? 1 : 0;
  });
}

function sidesOf(eyes: EyePairOptions["eyes"]): readonly Eye[] {
  if (eyes === "both" || eyes === "random") return ["right", "left"];
  if (eyes === "right" || eyes === "left") return [eyes];
  throw new InputError(`eyePairs requires eyes "right", "left", "both" or "random", got "${eyes}"`);
}
