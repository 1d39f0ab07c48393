import { type ForAudience, InputError, jointAudience } from "../../results/index.js";
import { withoutNoise } from "../../rows/index.js";
import type { Cohort, EquivalentSource } from "../types.js";
import { eyePairs } from "./eyePairs.js";
import type { Quantity } from "./eyeQuantity.js";
import type { Excluded } from "./pairedEyes.js";

export interface ChildValueOptions {
  readonly eye: "worse" | "better" | "mean" | "right" | "left" | "random";
  /** Integer; required for "random". */
  readonly seed?: number;
  readonly quantity?: Quantity;
  /** Which end is worse; required for "worse" and "better", never guessed. */
  readonly worseWhen?: "low" | "high";
  readonly referenceEquivalent?: EquivalentSource;
}

/** One value of test and reference a child, with those left out. */
export interface ChildValues extends ForAudience {
  readonly kind: "child-values";
  readonly n: number;
  readonly eye: ChildValueOptions["eye"];
  readonly quantity: Quantity;
  readonly test: Float64Array;
  readonly reference: Float64Array;
  /** Position of the child in `cohort.children`. */
  readonly subjects: Int32Array;
  /** Children with one complete eye only, where the value needs both. */
  readonly oneEyeOnly: number;
  /** Children without any complete eye, by reason. */
  readonly excluded: readonly Excluded[];
}

/**
 * One value a child of reading and of finding. "worse", "better" and "mean" need both eyes complete
 * and are taken of the reading and of the finding separately: the worse eye of the one need not be
 * the worse eye of the other.
 *
 * @throws InputError for "worse" or "better" without `worseWhen`
 * @example
 * const eyes = [
 *   { subject: "a", eye: "OD", sphere: -1, cylinder: 0, axis: 0 },
 *   { subject: "a", eye: "OS", sphere: -3, cylinder: 0, axis: 0 },
 * ];
 * const cohort = linkCohort({ readings: await readReadings(eyes), findings: await readFindings(eyes) });
 * childValues(cohort, { eye: "worse", worseWhen: "low" }).test[0] // => -3
 */
export function childValues(cohort: Cohort, options: ChildValueOptions): ChildValues {
  const { eye, quantity = "M", worseWhen, referenceEquivalent } = options;
  if ((eye === "worse" || eye === "better") && worseWhen === undefined) {
    throw new InputError('childValues requires worseWhen: "low" | "high" for this eye, got none');
  }
  const needsBoth = eye === "worse" || eye === "better" || eye === "mean";
  const pairs = eyePairs(cohort, {
    eyes: needsBoth ? "both" : eye,
    seed: options.seed,
    quantity,
    referenceEquivalent,
  });
  const test: number[] = [];
  const reference: number[] = [];
  const subject: number[] = [];
  let oneEyeOnly = 0;
  for (let row = 0; row < pairs.n; row++) {
    const both = needsBoth && pairs.subjects[row + 1] === pairs.subjects[row];
    if (needsBoth && !both) {
      oneEyeOnly++;
      continue;
    }
    test.push(both ? combined(pairs.test[row], pairs.test[row + 1]) : pairs.test[row]);
    reference.push(
      both ? combined(pairs.reference[row], pairs.reference[row + 1]) : pairs.reference[row],
    );
    subject.push(pairs.subjects[row]);
    if (both) row++;
  }
  return {
    kind: "child-values",
    ...jointAudience(pairs),
    n: test.length,
    eye,
    quantity,
    test: Float64Array.from(test),
    reference: Float64Array.from(reference),
    subjects: Int32Array.from(subject),
    oneEyeOnly,
    excluded: pairs.excluded,
  };

  function combined(right: number, left: number): number {
    if (eye === "mean") return withoutNoise((right + left) / 2);
    const lowest = (eye === "worse") === (worseWhen === "low");
    return lowest ? Math.min(right, left) : Math.max(right, left);
  }
}
