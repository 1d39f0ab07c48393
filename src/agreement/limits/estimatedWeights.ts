import { InputError, type Undefined } from "../../results/index.js";
import {
  childrenOf,
  type Draws,
  type ExaminationColumns,
  examinedRows,
  requireDraws,
  requireNumbers,
  requireSameLength,
  sitesOf,
  takeClusters,
  takeColumns,
} from "../../rows/index.js";
import { examinedOnly } from "./limitNotes.js";
import { limitsOfAgreement } from "./limitsOfAgreement.js";
import { verifiedLimits } from "./verifiedLimits.js";
import { verifiedOverSites } from "./verifiedOverSites.js";
import type { WeightedData, WeightedLimits } from "./weightedData.js";

const caller = "weightedLimits";

/** Weighted limits of all rows with a reading; see `weightedLimits`. */
export function estimatedWeights(
  {
    test,
    reference,
    examination,
    ...whose
  }: WeightedData & { readonly examination: ExaminationColumns },
  options: Partial<Draws> & { readonly level: number; readonly multiplier: number },
): WeightedLimits | Undefined {
  const { level, multiplier } = options;
  const run = { level, multiplier };
  const rows = requireSameLength(caller, { test, reference });
  const { examined: codes, strata, weights } = examinedRows(caller, examination, rows);
  const seen = Array.from(codes.keys()).filter((row) => codes[row] === 1);
  const subjects = childrenOf(caller, whose, rows);
  const sites = sitesOf(caller, whose, subjects);
  const { clusters } = whose;
  const draws = requireDraws(caller, options, { clusters, when: "with examination" });
  requireNumbers(caller, "test", test, rows, { only: codes });
  requireNumbers(caller, "reference", reference, rows, { only: codes });
  const children = new Set(seen.map((row) => subjects.ofRow[row])).size;
  if (children < 3) {
    throw new InputError(`${caller} requires at least 3 examined subjects, got ${children}`);
  }
  const differences = new Float64Array(rows).fill(Number.NaN);
  for (const row of seen) differences[row] = test[row] - reference[row];
  const found =
    sites === undefined
      ? verifiedLimits(differences, { strata, subjects }, { ...run, ...draws! })
      : verifiedOverSites(differences, { strata, sites, weights }, run);
  if ("reason" in found) return found;
  const { failed, ...estimates } = { failed: undefined, ...found };
  const examined = { ...takeColumns({ test, reference }, seen), ...takeClusters(whose, seen) };
  return {
    kind: "weighted-limits",
    n: seen.length,
    subjects: children,
    ...(sites === undefined ? {} : { sites: sites.count }),
    level,
    multiplier,
    direction: "test-minus-reference",
    ...estimates,
    amongExamined: limitsOfAgreement(examined, { level, multiplier, conditional: "skip" }),
    examination: { rows, strata: strata.count, ...draws, ...(failed !== undefined && { failed }) },
    notes: [
      examinedOnly,
      "Examined rows stand for the unexamined of their stratum: right only if examination was random within it.",
    ],
  };
}
