import { limitsOfAgreement, withinDifference } from "../../agreement/index.js";
import { type Cohort, type EyePairs, eyePairs } from "../../cohort/index.js";
import { shownPairs } from "../../privacy/index.js";
import type { Protocol } from "../../protocol/index.js";
import { InputError, undefinedBecause } from "../../results/index.js";
import { type ClusterColumns, groupRows, takeColumns } from "../../rows/index.js";
import type { AgreementByGroup, AgreementResult } from "./studyResult.js";
import { subgroupsOf } from "./subgroups.js";
import { tooFew } from "./tooFew.js";
import { weightedAgreement } from "./weightedAgreement.js";
import { whoseRows } from "./whoseRows.js";

/**
 * Limits of agreement of one component, test minus reference, over the protocol's eyes. J45 of right
 * and left eyes together is taken after mirroring the left ones: they are mirror images.
 *
 * @returns null for J0 and J45 where too few eyes have them, as where the files hold M alone
 * @throws InputError where too few have M
 */
export function analyseAgreement(
  cohort: Cohort,
  protocol: Protocol,
  quantity: "M" | "J0" | "J45",
): AgreementResult | null {
  const { eye, level, seed, replicates, audience, acceptableDifference, smallCounts } = protocol;
  const pairs = eyePairs(cohort, {
    eyes: eye === "worse" ? "both" : eye,
    seed,
    quantity,
    // only M can be stated
    ...(quantity === "M" ? { referenceEquivalent: protocol.referenceStandard.equivalent } : {}),
    sphereRange: protocol.indexTest.range?.sphere,
  });
  const { n, subjects } = pairs;
  const mirrored = quantity === "J45" && (pairs.eyes === "both" || pairs.eyes === "random");
  const test = mirrored ? mirroredLeft(pairs, pairs.test) : pairs.test;
  const reference = mirrored ? mirroredLeft(pairs, pairs.reference) : pairs.reference;
  const differences = Float64Array.from({ length: n }, (_, row) => test[row] - reference[row]);
  const means = Float64Array.from({ length: n }, (_, row) => (test[row] + reference[row]) / 2);
  const whose = whoseRows(cohort, protocol, subjects);
  if (quantity !== "M" && tooFew(whose) !== null) return null;
  requireEnough(whose);
  const data = { test, reference, ...whose };
  return {
    quantity,
    mirrored,
    limits: limitsOfAgreement(
      { ...data, ...(pairs.endOfRange ? { endOfRange: pairs.endOfRange } : {}) },
      { level, seed, replicates, leads: protocol.leadingLimits },
    ),
    weighted: quantity === "M" ? weightedAgreement(cohort, protocol) : null,
    withinAcceptable:
      quantity === "M"
        ? withinDifference(data, { acceptable: [acceptableDifference], level }).shares[0].within
        : null,
    excluded: pairs.excluded,
    shown: shownPairs({ x: means, y: differences }, { audience, seed, smallCounts }),
    subgroups: quantity === "M" ? byGroup(cohort, protocol, { test, reference, subjects }) : [],
  };
}

function requireEnough(whose: ClusterColumns): void {
  const few = tooFew(whose);
  if (few === null) return;
  throw new InputError(
    few === "children"
      ? `runStudy requires at least 3 children with a reading and a finding of M, got fewer; describeProgramme counts what there is without them`
      : `runStudy requires sites that count as at least 2 for clusters "site", got fewer with a reading and a finding of M; leave "clusters" out of the protocol, knowing that differences between sites are then left out`,
  );
}

function mirroredLeft({ eye }: EyePairs, values: Float64Array): Float64Array {
  return values.map((value, row) => (eye[row] === "left" ? 0 - value : value));
}

const fewWords = {
  children: "fewer than 3 children",
  sites: "sites that count as fewer than 2",
};

/** Bias and limits in each group of the protocol's subgroups, in the order of the groups' names. */
function byGroup(
  cohort: Cohort,
  protocol: Protocol,
  pairs: Pick<EyePairs, "test" | "reference" | "subjects">,
): AgreementByGroup[] {
  const { level, seed, replicates } = protocol;
  return subgroupsOf(cohort, protocol).map(({ by, role, groupOf, order }) => {
    const labels = Array.from(pairs.subjects, groupOf);
    const groups = groupRows("runStudy", labels, labels.length, "subgroups").sort((one, other) =>
      order(one.label, other.label),
    );
    return {
      by,
      role,
      groups: groups.map(({ label, rows }) => {
        const { subjects, ...values } = takeColumns(pairs, rows);
        const children = new Set(subjects).size;
        // One site has no sites within it.
        const whose = by === "site" ? { subjects } : whoseRows(cohort, protocol, subjects);
        const data = { ...values, ...whose };
        const few = tooFew(whose);
        return {
          group: label,
          children,
          eyes: rows.length,
          limits:
            few !== null
              ? undefinedBecause(fewWords[few])
              : limitsOfAgreement(data, { level, seed, replicates, conditional: "skip" }),
        };
      }),
    };
  });
}
