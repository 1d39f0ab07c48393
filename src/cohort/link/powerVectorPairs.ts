import { type PowerVector, toPowerVectors } from "../../refraction/index.js";
import { type ForAudience, jointAudience } from "../../results/index.js";
import { withoutNoise } from "../../rows/index.js";
import type { Cohort, Eye, Findings, Readings } from "../types.js";
import { type ChosenEyes, type Excluded, pairedEyes } from "./pairedEyes.js";

/** Reading and finding of each eye as power vectors, ready for `vectorAgreement`; one row an eye. */
export interface PowerVectorPairs extends ForAudience {
  readonly kind: "power-vector-pairs";
  /** Pairs, which are eyes. */
  readonly n: number;
  readonly children: number;
  /** Which eyes of a child were taken. */
  readonly taken: ChosenEyes["eyes"];
  /** Only where eyes were drawn. */
  readonly seed?: number;
  readonly test: readonly PowerVector[];
  readonly reference: readonly PowerVector[];
  /** Position of the child in `cohort.children`, not the file's identifier. */
  readonly subjects: Int32Array;
  /** The eye of each row; functions of vectors that are given it mirror left eyes. */
  readonly eyes: readonly Eye[];
  /** Age of the child, completed months as years where they are known; NaN is missing. */
  readonly ageYears: Float64Array;
  readonly excluded: readonly Excluded[];
}

/**
 * The reading and the finding of every eye as power vectors M, J0, J45 in dioptres, computed from sphere,
 * cylinder and axis, in the order of the children. An eye is there where both have all three; who is not,
 * and why, is counted. Vectors are as measured: `vectorAgreement` and `doubleAngleSummary` mirror left eyes
 * by the column `eyes`.
 *
 * @throws InputError for random eyes without a seed
 * @example
 * const eye = { subject: "a", eye: "OD", sphere: -1, cylinder: -0.5, axis: 180 };
 * const cohort = linkCohort({ readings: await readReadings([eye]), findings: await readFindings([eye]) });
 * powerVectorPairs(cohort, { eyes: "both" }).test // => [{ M: -1.25, J0: 0.25, J45: 0 }]
 */
export function powerVectorPairs(cohort: Cohort, options: ChosenEyes): PowerVectorPairs {
  const test = vectorsOf(cohort.readings);
  const reference = vectorsOf(cohort.findings);
  const wanted = (["M", "J0", "J45"] as const).map((name) => ({
    test: test[name],
    reference: reference[name],
  }));
  const paired = pairedEyes("powerVectorPairs", cohort, wanted, options);
  const rowOf =
    ({ M, J0, J45 }: typeof test) =>
    (row: number) => ({ M: M[row], J0: J0[row], J45: J45[row] });
  return {
    kind: "power-vector-pairs",
    ...jointAudience(cohort),
    n: paired.subjects.length,
    children: new Set(paired.subjects).size,
    taken: options.eyes,
    ...(options.eyes === "random" ? { seed: options.seed } : {}),
    test: paired.readingRows.map(rowOf(test)),
    reference: paired.findingRows.map(rowOf(reference)),
    subjects: Int32Array.from(paired.subjects),
    eyes: paired.sides,
    ageYears: Float64Array.from(paired.subjects, (child) => {
      const months = cohort.children.ageMonths[child];
      return Number.isNaN(months) ? cohort.children.ageYears[child] : months / 12;
    }),
    excluded: paired.excluded,
  };
}

function vectorsOf(data: Readings | Findings) {
  const { M, J0, J45 } = toPowerVectors(data);
  return { M: M.map(withoutNoise), J0: J0.map(withoutNoise), J45: J45.map(withoutNoise) };
}
