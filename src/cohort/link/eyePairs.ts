import { type ForAudience, InputError, jointAudience } from "../../results/index.js";
import type { Cohort, EquivalentSource, Eye } from "../types.js";
import { type Quantity, quantityColumns } from "./eyeQuantity.js";
import { type OwnValues, ownOfPairs } from "./ownValues.js";
import { type ChosenEyes, type Excluded, pairedEyes } from "./pairedEyes.js";

export interface EyePairOptions extends ChosenEyes {
  readonly quantity?: Quantity;
  /** Spheres at which the instrument's range ends; readings there are marked in `endOfRange`. */
  readonly sphereRange?: readonly [number, number];
  /** The finding's M from sphere and cylinder, or as the file states it; by default as the cohort was linked. */
  readonly referenceEquivalent?: EquivalentSource;
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
  const values = quantityColumns(cohort, quantity, referenceEquivalent);
  const { excluded, ...paired } = pairedEyes("eyePairs", cohort, [values], options);
  const { readingRows, findingRows } = paired;
  const own = ownOfPairs(cohort, readingRows, findingRows);
  return {
    kind: "eye-pairs",
    ...jointAudience(cohort),
    n: paired.subjects.length,
    children: new Set(paired.subjects).size,
    eyes: options.eyes,
    ...(options.eyes === "random" ? { seed: options.seed } : {}),
    quantity,
    referenceEquivalent,
    ...(linked?.readingEquivalent === "stated" ? { readingEquivalent: "stated" as const } : {}),
    test: Float64Array.from(readingRows, (row) => values.test[row]),
    reference: Float64Array.from(findingRows, (row) => values.reference[row]),
    subjects: Int32Array.from(paired.subjects),
    eye: paired.sides,
    ...(options.sphereRange === undefined
      ? {}
      : { endOfRange: atEnds(cohort, readingRows, options.sphereRange) }),
    ...(own === undefined ? {} : { own }),
    excluded,
  };
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
