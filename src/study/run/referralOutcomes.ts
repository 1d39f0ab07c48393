import {
  type ClusteredRows,
  clusteredAccuracy,
  everyOutcome,
  type OutcomeShares,
  outcomesOfCells,
  partOfWhole,
  sortedCells,
} from "../../accuracy/index.js";
import { proportionInterval } from "../../inference/index.js";
import type { Protocol } from "../../protocol/index.js";
import type { TwoByTwo } from "../../results/index.js";
import type { Referred } from "../../rows/index.js";
import type { ConditionResult } from "./studyResult.js";
import { columnsOf, drawsOf, type VerificationRows } from "./verificationOf.js";

/** What examined rows say, and whose they are where intervals go by children or sites. */
interface Examined {
  readonly table: TwoByTwo;
  readonly test: readonly Referred[];
  readonly reference: readonly boolean[];
  /** Null where every row is a child of its own. */
  readonly whose: Pick<ClusteredRows, "subjects" | "clusters"> | null;
}

/**
 * What the referral does to those screened, as shares of all of them: referred, rightly, wrongly,
 * missed, rightly passed. Where passes were examined in part by the sums and draws of the corrected
 * accuracy; nothing where cases were over-represented, as then the shares say nothing of a screening.
 */
export function referralOutcomes(
  protocol: Protocol,
  rows: VerificationRows,
  examined: Examined,
  verification: ConditionResult["verification"],
): { readonly outcomes?: OutcomeShares } {
  if (protocol.sampling === "enriched") return {};
  if (verification === null) return { outcomes: examinedOutcomes(protocol, examined) };
  const { sorted, bySite } = sortedCells("runStudy", columnsOf(rows, protocol.unit), protocol);
  const { level, seed } = protocol;
  const settings = { level, seed, replicates: drawsOf(protocol), bySite };
  return { outcomes: outcomesOfCells(sorted, settings, verification.corrected) };
}

function examinedOutcomes(
  { level, undecidable }: Protocol,
  { table, test, reference, whose }: Examined,
): OutcomeShares {
  const refers = (decision: Referred) =>
    decision === "undecidable" ? undecidable === "refer" : decision;
  return everyOutcome((measure) => {
    if (whose === null) {
      const [successes, trials] = partOfWhole(table, measure);
      return proportionInterval({ successes, trials }, { level });
    }
    const isPart = test.map((decision, row) => {
      if (decision === "undecidable" && undecidable === "exclude") return decision;
      return partOfWhole(tableOfOne(refers(decision) === true, reference[row]!), measure)[0] === 1;
    });
    const of = { test: isPart, reference, ...whose } as ClusteredRows;
    return clusteredAccuracy(of, { level, undecidable }).referralRate;
  });
}

/** The table of a single row. */
function tableOfOne(referred: boolean, has: boolean): TwoByTwo {
  const at = (side: boolean, condition: boolean) => Number(side === referred && condition === has);
  return {
    truePositive: at(true, true),
    falsePositive: at(true, false),
    falseNegative: at(false, true),
    trueNegative: at(false, false),
  };
}
