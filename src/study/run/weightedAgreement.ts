import { type WeightedLimits, weightedLimits } from "../../agreement/index.js";
import type { Cohort } from "../../cohort/index.js";
import { quantityColumns } from "../../cohort/index.js";
import type { Protocol } from "../../protocol/index.js";
import { type Undefined, undefinedBecause } from "../../results/index.js";
import { conditionRows } from "./conditionRows.js";
import { eyesOf } from "./limitReader.js";
import { programmeOf, programmeRows, type RecordedDecision } from "./programmeOf.js";
import { screenedOutcome } from "./screenedCohort.js";
import { strataOf } from "./subgroups.js";
import { weightsOfRows } from "./verificationOf.js";
import { whoseRows } from "./whoseRows.js";

/**
 * Limits of agreement of M with the examined standing for the unexamined: every eye with a reading,
 * in cells of what the programme decided of the child (without a record: of the first condition's
 * referral) and of the groups in which children were drawn. Null where everyone was examined.
 */
export function weightedAgreement(
  cohort: Cohort,
  protocol: Protocol,
): WeightedLimits | Undefined | null {
  if (protocol.verification === "complete") return null;
  const { children, findings } = cohort;
  const { level, seed, replicates } = protocol;
  const programme = programmeOf(cohort, protocol);
  const rows = programmeRows(
    conditionRows(cohort, protocol, protocol.conditions[0]),
    cohort,
    protocol,
    programme,
    strataOf(cohort, protocol)?.groupOf ?? null,
  );
  // a child is referred by either eye
  const rowOf = new Map<number, number>();
  const order: readonly RecordedDecision[] = ["pass", "unable", "refer"];
  rows.subjects.forEach((child, row) => {
    const before = rowOf.get(child);
    const isLater =
      before === undefined ||
      order.indexOf(rows.recorded[row]) > order.indexOf(rows.recorded[before]);
    if (isLater) rowOf.set(child, row);
  });
  const columns = quantityColumns(cohort, "M", protocol.referenceStandard.equivalent);
  const sides = eyesOf(cohort, protocol);
  const { codes, labels } = children.verificationReason;
  const eyes: { test: number; reference: number; child: number; row: number }[] = [];
  for (const [child, row] of rowOf) {
    for (const side of sides(child)) {
      const outcome = screenedOutcome(cohort, child, side);
      if (outcome === null || outcome === "low-confidence") continue;
      const test = columns.test[children.readingRow[side][child]];
      if (Number.isNaN(test)) continue;
      const found = children.findingRow[side][child];
      const reference =
        found < 0 || findings.status.codes[found] !== 0 ? Number.NaN : columns.reference[found];
      eyes.push({ test, reference, child, row });
    }
  }
  const column = <Value>(values: readonly Value[]) => eyes.map(({ row }) => values[row]);
  const recorded = column(rows.recorded);
  const weights = weightsOfRows(
    {
      programme,
      recorded,
      // who was examined hangs on the decision alone: no rule is studied here
      test: recorded.map((decision) => decision !== "pass"),
      reference: eyes.map(({ reference }) => (Number.isNaN(reference) ? null : true)),
      reason: eyes.map(({ reference, child, row }) =>
        Number.isNaN(reference)
          ? "not-examined"
          : rows.reason[row] === "not-examined"
            ? labels[codes[child]]
            : rows.reason[row],
      ),
      subjects: eyes.map(({ child }) => child),
      selfPresented: column(rows.selfPresented),
      groups: column(rows.groups),
      sites: null,
      shares: rows.shares === null ? null : column(rows.shares),
    },
    { ...protocol, unit: "eye" },
  );
  if ("reason" in weights) return weights;
  const standing = eyes.filter((_, at) => weights.examined[at]);
  if (new Set(standing.map(({ child }) => child)).size < 3) {
    return undefinedBecause("fewer than 3 children stand for the others");
  }
  const whose = whoseRows(
    cohort,
    protocol,
    eyes.map(({ child }) => child),
  );
  const data = {
    test: eyes.map(({ test }) => test),
    reference: eyes.map(({ reference }) => reference),
    examination: { examined: weights.examined, strata: weights.strata },
  };
  return whose.clusters === undefined
    ? weightedLimits({ ...data, ...whose }, { level, seed, replicates: Math.max(2, replicates) })
    : weightedLimits({ ...data, clusters: whose.clusters }, { level });
}
