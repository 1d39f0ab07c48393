import type {
  Accuracy,
  AccuracyByGroup,
  ClusteredAccuracy,
  CorrectedAccuracy,
  UnreadableBounds,
  UnreadableVariants,
  VerificationCount,
} from "../accuracy/index.js";
import type { DoubleAngleSummary, LimitsOfAgreement } from "../agreement/index.js";
import type { Excluded, ParticipantFlow } from "../cohort/index.js";
import type { Plotted } from "../figures/points.js";
import type { Protocol } from "../protocol/index.js";
import type { Estimate, TableModel, TwoByTwo, Undefined } from "../results/index.js";
import type { RocCurve, ThresholdChoice } from "../thresholds/index.js";

/** How many cells or rows met a rule of the reader; the cells themselves stay in the local audit. */
export interface ProblemCount {
  readonly source: "readings" | "findings";
  readonly rule: string;
  readonly message: string;
  readonly action: string;
  readonly count: number;
}

export interface AgreementResult {
  readonly quantity: "M" | "J0" | "J45";
  readonly limits: LimitsOfAgreement;
  /** Share of differences within the acceptable difference stated in advance; M only. */
  readonly withinAcceptable: Estimate | Undefined | null;
  readonly excluded: readonly Excluded[];
  /** What may be drawn: no id, rounded, shuffled; cells of at least 11 for the public. */
  readonly plotted: Plotted;
}

/** Astigmatism of the differences, test minus reference, in the plane of J0 and J45. */
export interface AstigmatismResult {
  readonly summary: DoubleAngleSummary;
  readonly plotted: Plotted;
}

export interface ConditionResult {
  readonly id: string;
  readonly title: string;
  readonly role: "confirmatory" | "exploratory";
  readonly definition: "own" | "published";
  readonly citation: string | null;
  readonly caution: string | null;
  /** The condition and the referral limit in words, such as "M <= -3.00 D". */
  readonly target: string;
  readonly referWhen: string;
  /** Rows compared: eyes or children, the unreadable counted by the protocol's policy. */
  readonly n: number;
  /** Children among them. */
  readonly children: number;
  /** Rows screened, examined or not. */
  readonly screened: number;
  readonly unexamined: number;
  /** Examined, but without a decision by the reading. */
  readonly undecidable: number;
  readonly table: TwoByTwo;
  readonly accuracy: Accuracy | ClusteredAccuracy;
  readonly variants: UnreadableVariants;
  readonly worstAndBest: UnreadableBounds;
  /** Null where everyone was examined. */
  readonly verification: {
    readonly count: VerificationCount;
    readonly corrected: CorrectedAccuracy;
  } | null;
  readonly curve: RocCurve | Undefined;
  readonly area: Estimate | Undefined;
  /** A limit chosen on these data: exploratory. */
  readonly chosen: ThresholdChoice | null;
  readonly subgroups: readonly { readonly by: "age" | "site"; readonly result: AccuracyByGroup }[];
}

/** Everything a study found, as plain data. */
export interface StudyResult {
  readonly kind: "study";
  readonly version: 1;
  readonly protocol: Protocol;
  readonly protocolHash: string;
  readonly flow: ParticipantFlow;
  /** Who was studied, examined against not examined. */
  readonly baseline: TableModel;
  readonly problems: readonly ProblemCount[];
  readonly agreement: readonly AgreementResult[];
  /** Null with fewer than 5 pairs. */
  readonly astigmatism: AstigmatismResult | null;
  readonly conditions: readonly ConditionResult[];
  readonly limitations: readonly string[];
  readonly caution: string;
}
