import { type WeightedLimits, weightedLimits } from "../../agreement/index.js";
import type { Cohort } from "../../cohort/index.js";
import { quantityColumns } from "../../cohort/index.js";
import type { Protocol } from "../../protocol/index.js";
import { type Undefined, undefinedBecause } from "../../results/index.js";
import { conditionRows } from "./conditionRows.js";
import { eyesOf } from "./limitReader.js";
import { screenedOutcome } from "./screenedCohort.js";
import { strataOf } from "./subgroups.js";
import { standsForOthers } from "./weighting.js";

/**
 * Limits of agreement of M with the examined standing for the unexamined: every eye with a reading,
 * in strata of the child's referral by the first condition and of the groups in which children were
 * drawn. Null where everyone was examined.
 */
export function weightedAgreement(
  cohort: Cohort,
  protocol: Protocol,
): WeightedLimits | Undefined | null {
  if (protocol.verification === "complete") return null;
  const { children, findings } = cohort;
  const { level, seed, replicates, unreadable } = protocol;
  const rows = conditionRows(cohort, protocol, protocol.conditions[0]);
  const referred = new Map<number, boolean>();
  rows.test.forEach((test, row) => {
    if (test === "undecidable" && unreadable === "exclude") return;
    const child = rows.subjects[row];
    const refers = test === "undecidable" ? unreadable === "refer" : test;
    referred.set(child, refers || (referred.get(child) ?? false));
  });
  const columns = quantityColumns(cohort, "M", protocol.referenceStandard.equivalent);
  const groups = strataOf(cohort, protocol);
  const sides = eyesOf(cohort, protocol);
  const eyes: {
    test: number;
    reference: number;
    child: number;
    examined: boolean;
    stratum: string;
  }[] = [];
  for (const [child, refers] of referred) {
    const { codes, labels } = children.verificationReason;
    const stands = standsForOthers(labels[codes[child]], refers);
    for (const side of sides(child)) {
      const outcome = screenedOutcome(cohort, child, side);
      if (outcome === null || outcome === "low-confidence") continue;
      const test = columns.test[children.readingRow[side][child]];
      if (Number.isNaN(test)) continue;
      const row = children.findingRow[side][child];
      const reference =
        row < 0 || findings.status.codes[row] !== 0 ? Number.NaN : columns.reference[row];
      eyes.push({
        test,
        reference,
        child,
        examined: stands && !Number.isNaN(reference),
        stratum: `${refers ? "referred" : "passed"}, ${groups?.groupOf(child) ?? ""}`,
      });
    }
  }
  const examined = eyes.filter((eye) => eye.examined);
  const known = new Set(examined.map(({ stratum }) => stratum));
  if (![...known].some((stratum) => stratum.startsWith("passed"))) {
    return undefinedBecause(
      "none of those who passed was drawn for the exam, so nobody stands for the unexamined",
    );
  }
  const blind = eyes.find(({ stratum }) => !known.has(stratum));
  if (blind !== undefined) {
    return undefinedBecause(
      `nobody stands for the unexamined of the group "${blind.stratum.replace(/, $/, "")}"`,
    );
  }
  if (new Set(examined.map(({ child }) => child)).size < 3) {
    return undefinedBecause("fewer than 3 children stand for the others");
  }
  return weightedLimits(
    {
      test: eyes.map(({ test }) => test),
      reference: eyes.map(({ reference }) => reference),
      subjects: eyes.map(({ child }) => child),
      verification: {
        examined: eyes.map((eye) => eye.examined),
        strata: eyes.map(({ stratum }) => stratum),
      },
    },
    { level, seed, replicates: Math.max(2, replicates) },
  );
}
