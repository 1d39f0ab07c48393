import { InputError, type Undefined } from "../../results/index.js";
import {
  clustersOf,
  type ExaminationColumns,
  examinedRows,
  requireNumbers,
  requireSameLength,
  requireWhole,
  takeColumns,
} from "../../rows/index.js";
import { examinedOnly } from "./limitNotes.js";
import { limitsOfAgreement } from "./limitsOfAgreement.js";
import { verifiedLimits } from "./verifiedLimits.js";
import type { WeightedData, WeightedLimits } from "./weightedData.js";

const caller = "weightedLimits";

/** Weighted limits of all rows with a reading; see `weightedLimits`. */
export function estimatedWeights(
  {
    test,
    reference,
    examination,
    subjects: labels,
  }: WeightedData & { readonly examination: ExaminationColumns },
  options: {
    readonly level: number;
    readonly multiplier: number;
    readonly seed?: number;
    readonly replicates?: number;
  },
): WeightedLimits | Undefined {
  const { level, multiplier, seed, replicates = 2000 } = options;
  if (seed === undefined || !Number.isSafeInteger(seed)) {
    throw new InputError(`${caller} requires a whole seed with examination, got ${seed}`);
  }
  requireWhole(caller, "replicates", replicates, 2);
  const rows = requireSameLength(caller, { test, reference });
  const { examined: codes, strata } = examinedRows(caller, examination, rows);
  const seen = Array.from(codes.keys()).filter((row) => codes[row] === 1);
  const subjects = clustersOf(caller, labels, rows);
  const examined = takeColumns({ test, reference, subjects: labels }, seen);
  requireNumbers(caller, "test", test, rows, { only: codes });
  requireNumbers(caller, "reference", reference, rows, { only: codes });
  const children = new Set(seen.map((row) => subjects.ofRow[row])).size;
  if (children < 3) {
    throw new InputError(`${caller} requires at least 3 examined subjects, got ${children}`);
  }
  const differences = new Float64Array(rows).fill(Number.NaN);
  for (const row of seen) differences[row] = test[row] - reference[row];
  const run = { level, multiplier, seed, replicates };
  const found = verifiedLimits(differences, { strata, subjects }, run);
  if ("reason" in found) return found;
  const { failed, ...estimates } = found;
  return {
    kind: "weighted-limits",
    n: seen.length,
    subjects: children,
    level,
    multiplier,
    direction: "test-minus-reference",
    ...estimates,
    amongExamined: limitsOfAgreement(examined, { level, multiplier, conditional: "skip" }),
    examination: { rows, strata: strata.count, replicates, seed, failed },
    notes: [
      examinedOnly,
      "Examined rows stand for the unexamined of their stratum: right only if examination was random within it.",
    ],
  };
}
