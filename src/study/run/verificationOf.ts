import {
  type CorrectedAccuracy,
  correctByDecision,
  type DecisionColumns,
  verificationWeights,
} from "../../accuracy/index.js";
import type { Protocol } from "../../protocol/index.js";
import { type Undefined, undefinedBecause } from "../../results/index.js";
import type { UndecidablePolicy } from "../../rows/index.js";
import type { Programme, ProgrammeRows } from "./programmeOf.js";

/** Accuracy corrected for who was examined. */
export interface Corrected {
  readonly corrected: CorrectedAccuracy;
}

/** Rows, and where the decisions in them are known from. */
export type VerificationRows = ProgrammeRows & { readonly programme: Pick<Programme, "source"> };

/** Draws behind a corrected interval: five times the protocol's replicates, 10,000 as a rule. */
export const drawsOf = ({ replicates }: Pick<Protocol, "replicates">): number =>
  Math.max(200, 5 * replicates);

/** Corrects by the programme's decision and the groups in which children were drawn. */
export function correctedRows(
  rows: VerificationRows,
  protocol: Protocol,
  policy: UndecidablePolicy,
  draws = drawsOf(protocol),
): CorrectedAccuracy {
  const { level, seed, unit } = protocol;
  return correctByDecision(columnsOf(rows, unit), {
    undecidable: policy,
    level,
    seed,
    replicates: draws,
    refused: refusal(rows),
  });
}

/** Who of some rows stands for whom, as strata; or why nobody can. */
export function weightsOfRows(
  rows: VerificationRows,
  { unit, undecidable }: Protocol,
): ReturnType<typeof verificationWeights> | Undefined {
  const refused = refusal(rows);
  if (refused !== undefined) return undefinedBecause(refused);
  const weights = verificationWeights(columnsOf(rows, unit), { undecidable });
  const known = new Set(weights.strata.filter((_, at) => weights.examined[at]));
  const passExamined = weights.kept.some(
    (row, at) => rows.recorded[row] === "pass" && weights.examined[at],
  );
  if (!passExamined) {
    return undefinedBecause(
      "none of those who passed was drawn for the exam, so nobody stands for the unexamined",
    );
  }
  const blind = weights.strata.find((stratum) => !known.has(stratum));
  return blind === undefined
    ? weights
    : undefinedBecause(`nobody stands for the unexamined of the group "${blind}"`);
}

/** The columns that the correction takes. */
export function columnsOf(rows: VerificationRows, unit: Protocol["unit"]): DecisionColumns {
  return {
    recorded: rows.recorded,
    test: rows.test,
    reference: rows.reference,
    reason: rows.reason,
    selfPresented: rows.selfPresented,
    strata: rows.groups,
    ...(rows.shares === null ? {} : { shareDrawn: rows.shares }),
    ...(rows.sites !== null
      ? { clusters: { subject: rows.subjects, site: rows.sites } }
      : unit === "eye"
        ? { subjects: rows.subjects }
        : {}),
  };
}

/**
 * Why nothing can be corrected: without a recorded decision the referral under study stands for it,
 * and children whom it passes but who were examined as referred show that it was another.
 */
function refusal({ programme, recorded, reason }: VerificationRows): string | undefined {
  if (programme.source !== "studied") return undefined;
  return recorded.some((decision, row) => decision === "pass" && reason[row] === "referred")
    ? "children whom this referral passes were examined as referred: the programme decided otherwise, and its decision is not recorded; map the column programmeDecision, or state programme.referWhen in the protocol"
    : undefined;
}

/** Some of the rows. */
export function rowsWhere(
  rows: VerificationRows,
  keep: (row: number) => boolean,
): VerificationRows {
  const kept = Array.from(rows.test.keys()).filter(keep);
  const of = <Value>(column: readonly Value[]) => kept.map((row) => column[row]);
  return {
    programme: rows.programme,
    test: of(rows.test),
    reference: of(rows.reference),
    reason: of(rows.reason),
    subjects: of(rows.subjects),
    recorded: of(rows.recorded),
    selfPresented: of(rows.selfPresented),
    groups: of(rows.groups),
    sites: rows.sites === null ? null : of(rows.sites),
    shares: rows.shares === null ? null : of(rows.shares),
  };
}
