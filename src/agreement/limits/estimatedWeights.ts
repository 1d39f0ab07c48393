import { InputError, type Undefined, type VerificationColumns } from "../../results/index.js";
import { clustersOf } from "../../rows/index.js";
import { requireFinite, requirePairs } from "../columns.js";
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
    verification,
    subjects: labels,
  }: WeightedData & { readonly verification: VerificationColumns },
  options: {
    readonly level: number;
    readonly multiplier: number;
    readonly seed?: number;
    readonly replicates?: number;
  },
): WeightedLimits | Undefined {
  const { level, multiplier, seed, replicates = 2000 } = options;
  if (seed === undefined || !Number.isSafeInteger(seed)) {
    throw new InputError(`${caller} requires a whole seed with verification, got ${seed}`);
  }
  if (!Number.isSafeInteger(replicates) || replicates < 2) {
    throw new InputError(
      `${caller} requires a whole number of at least 2 replicates, got ${replicates}`,
    );
  }
  const rows = requirePairs(caller, test, reference, 3);
  const seen = requireExamined(verification.examined, rows);
  const examined = {
    test: seen.map((row) => test[row]),
    reference: seen.map((row) => reference[row]),
    ...(labels === undefined ? {} : { subjects: seen.map((row) => labels[row]) }),
  };
  requireFinite(caller, "test", examined.test);
  requireFinite(caller, "reference", examined.reference);
  const subjects = clustersOf(caller, labels, rows);
  const strata = clustersOf(caller, verification.strata, rows, "strata");
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
    amongExamined: limitsOfAgreement(examined, { level, multiplier }),
    verification: { rows, strata: strata.count, replicates, seed, failed },
    notes: [
      examinedOnly,
      "Examined rows stand for the unexamined of their stratum: right only if examination was random within it.",
    ],
  };
}

/** Numbers of the examined rows. */
function requireExamined(examined: VerificationColumns["examined"], rows: number): number[] {
  if (examined.length !== rows) {
    throw new InputError(
      `${caller} requires examined for each of ${rows} rows, got ${examined.length}`,
    );
  }
  const seen: number[] = [];
  for (let row = 0; row < rows; row++) {
    const value = examined[row];
    if (value === true || value === 1) seen.push(row);
    else if (value !== false && value !== 0) {
      throw new InputError(
        `${caller} requires examined to be true, false, 1 or 0, got ${String(value)} in row ${row}`,
      );
    }
  }
  return seen;
}
