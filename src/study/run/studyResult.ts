import type {
  Accuracy,
  AccuracyByGroup,
  ClusteredAccuracy,
  CorrectedAccuracy,
  ImperfectReference,
  OutcomeShares,
  PredictiveValuesRange,
  UnreadableBounds,
  UnreadableVariants,
} from "../../accuracy/index.js";
import type {
  DoubleAngleSummary,
  LimitsOfAgreement,
  WeightedLimits,
} from "../../agreement/index.js";
import type { Excluded, ParticipantFlow } from "../../cohort/index.js";
import type { ShownPairs } from "../../privacy/index.js";
import type { CountsByDecision, ProgrammeDescription } from "../../programme/index.js";
import type { Protocol } from "../../protocol/index.js";
import {
  type Estimate,
  InputError,
  type TableModel,
  type TwoByTwo,
  type Undefined,
} from "../../results/index.js";
import type { UndecidablePolicy } from "../../rows/index.js";
import type { ReasonCombination, ReferralRule, ReferredAndFound } from "../../rules/index.js";
import type { RocCurve, ThresholdChoice } from "../../thresholds/index.js";
import type { UndecidedByAge } from "./decided.js";
import type { MovedLimits } from "./movedLimits.js";
import type { ProgrammeSource } from "./programmeOf.js";
import type { SimultaneousRates } from "./simultaneousRates.js";
import type { ConditionCell, ConditionCells } from "./studyCells.js";
import type { StudyVerdict } from "./verdict.js";
import type { Corrected } from "./verificationOf.js";

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
  /** Left eyes are mirrored (J45 of right and left eyes together). */
  readonly mirrored: boolean;
  /** Of the examined. */
  readonly limits: LimitsOfAgreement;
  /** M only: the examined standing for the unexamined; null where everyone was examined. */
  readonly weighted: WeightedLimits | Undefined | null;
  /** Share of differences within the acceptable difference stated in advance; M only. */
  readonly withinAcceptable: Estimate | Undefined | null;
  readonly excluded: readonly Excluded[];
  /** Mean and difference of each eye: no id, rounded, shuffled; counts of at least 11 for the public. */
  readonly shown: ShownPairs;
  /** M only. */
  readonly subgroups: readonly AgreementByGroup[];
}

/** Limits of agreement in the groups of one grouping. */
export interface AgreementByGroup {
  readonly by: string;
  readonly role: "confirmatory" | "exploratory";
  readonly groups: readonly {
    readonly group: string;
    readonly children: number;
    readonly eyes: number;
    readonly limits: LimitsOfAgreement | Undefined;
  }[];
}

/** Astigmatism of the differences, test minus reference, in the plane of J0 and J45. */
export interface AstigmatismResult {
  readonly summary: DoubleAngleSummary;
  /** J0 and J45 of each difference, as in `AgreementResult`. */
  readonly shown: ShownPairs;
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
  /** Rows screened, and of these examined, by what the reading said; those without a decision are in neither. */
  readonly followUp: {
    readonly referred: { readonly screened: number; readonly examined: number };
    readonly passed: { readonly screened: number; readonly examined: number };
  };
  /** Examined, but without a decision by the reading. */
  readonly undecidable: number;
  readonly table: TwoByTwo;
  /** Every child of the study in one cell, or out of the rows; what the public form is computed from. */
  readonly cells: ConditionCells;
  readonly accuracy: Accuracy | ClusteredAccuracy;
  /** Of a confirmatory condition among several: sensitivity and specificity that hold together. */
  readonly simultaneous?: SimultaneousRates;
  /** What the exam's own error does to both, where the protocol declares one. */
  readonly referenceError?: ImperfectReference | Undefined;
  readonly variants: UnreadableVariants;
  readonly worstAndBest: UnreadableBounds;
  /** Null where everyone was examined. */
  readonly verification:
    | (Corrected & {
        readonly programme: DecisionCounts;
        /** The groups within which children were drawn, where the protocol names some. */
        readonly strata: readonly string[] | null;
        /** The undecidable counted in each way. */
        readonly byPolicy: readonly (Corrected & { readonly policy: UndecidablePolicy })[];
      })
    | null;
  /** Shares of all screened, or compared where everyone was examined; not of an enriched sample. */
  readonly outcomes?: OutcomeShares;
  /** At the shares with the condition that the protocol names. */
  readonly predictive?: PredictiveValuesRange;
  /** Corrected at every operating point of the curve; null where everyone was examined. */
  readonly atStops: readonly CorrectedStop[] | null;
  /** On the variable of the referral limit, among the examined; undefined where rules leave none. */
  readonly curve: RocCurve | Undefined;
  readonly area: Estimate | Undefined;
  /** A limit chosen on these data: exploratory. */
  readonly chosen: ThresholdChoice | null;
  /** The same with the examined standing for the unexamined; null where everyone was examined. */
  readonly weighted: {
    readonly area: Estimate | Undefined;
    /** Null where no limit was asked for. */
    readonly chosen: ThresholdChoice | Undefined | null;
  } | null;
  /** What the rules say, where one stands on either side. */
  readonly rules: ConditionRules | null;
  readonly subgroups: readonly {
    readonly by: string;
    readonly role: "confirmatory" | "exploratory";
    readonly result: AccuracyByGroup;
    /** Null where everyone was examined. */
    readonly corrected: readonly (Corrected & { readonly group: string })[] | null;
    /** The cells of each group. */
    readonly cells: readonly { readonly group: string; readonly cells: readonly ConditionCell[] }[];
  }[];
}

/** What the programme decided of the rows screened, where that is known from, and who was examined. */
export interface DecisionCounts extends ProgrammeSource {
  readonly refer: { readonly screened: number; readonly examined: number };
  readonly pass: { readonly screened: number; readonly examined: number };
  readonly unable: { readonly screened: number; readonly examined: number };
}

/** Accuracy corrected for who was examined, were the limit at `cutOff`, the value included. */
export interface CorrectedStop
  extends Pick<
    CorrectedAccuracy,
    "sensitivity" | "specificity" | "positivePredictiveValue" | "negativePredictiveValue"
  > {
  readonly cutOff: number;
}

/** The rules of a condition, with what they refer for and find; exact counts. */
export interface ConditionRules {
  /** Null where a limit on one variable stands on that side. */
  readonly refer: ReferralRule | null;
  readonly condition: ReferralRule | null;
  /** Screened children in no row, whatever the policy for the unreadable. */
  readonly undecidedByAge: readonly UndecidedByAge[];
  /** Examined, but the exam does not decide the condition. */
  readonly conditionUndecided: number;
  /** What a rule asks for and the data record of no eye, such as "media opacity"; absent in older results. */
  readonly notRecorded?: {
    readonly refer: readonly string[];
    readonly condition: readonly string[];
  };
  /** Children of the rows whom the rule refers, by what for. */
  readonly reasons: readonly ReasonCombination[] | null;
  readonly referredAndFound: ReferredAndFound | null;
  /** The counts behind the page on which a rule's limits move; null where none does, absent in older results. */
  readonly moved?: MovedLimits | null;
  /** One curve a condition that the target joins. */
  readonly curves: readonly ConditionCurve[];
}

/** One variable of the reading against one of the conditions that a rule joins. */
export interface ConditionCurve {
  readonly id: string;
  readonly words: string;
  /** The variable in words; null where there is none. */
  readonly variable: string | null;
  readonly unit: string | null;
  /** Among the examined. */
  readonly curve: RocCurve | Undefined;
  readonly area: Estimate | Undefined;
  /** Null where everyone was examined. */
  readonly weightedArea: Estimate | Undefined | null;
}

/** The programme in figures, against one condition at the exam. */
export interface ConditionProgramme extends ProgrammeSource {
  readonly id: string;
  readonly title: string;
  readonly description: ProgrammeDescription;
  /** What the public form is computed from. */
  readonly byDecision: CountsByDecision;
  readonly isAskedRecorded: boolean;
}

const resultVersion = 5;

/** @throws when a result was written by another version of the library, and so has another shape */
export function requireResultVersion(
  caller: string,
  { version }: { readonly version?: unknown },
): void {
  if (version === resultVersion) return;
  throw new InputError(
    `${caller} requires a result of version ${resultVersion}, got version ${String(version)}: run the study again from its protocol`,
  );
}

/**
 * A result read back from a file, if it is of this version of the library and of its own protocol.
 *
 * @throws when it was written by another version
 */
export function requireStudyResult(caller: string, result: StudyResult): StudyResult {
  requireResultVersion(caller, result);
  const ids = (conditions: readonly { readonly id: string }[]) =>
    conditions.map(({ id }) => id).join(", ");
  const [found, asked] = [ids(result.conditions), ids(result.protocol.conditions)];
  if (found === asked) return result;
  throw new InputError(
    `${caller} requires the conditions of the protocol, ${asked}, got ${found || "none"}: run the study again from its protocol`,
  );
}

/** Everything a study found, as plain data. */
export interface StudyResult {
  readonly kind: "study";
  /** Of the shape of this result. */
  readonly version: typeof resultVersion;
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
  /** Null where nothing says that the readings are those of a programme; absent in older results. */
  readonly programme?: readonly ConditionProgramme[] | null;
  /** On the criteria stated in advance; null without any, absent in older results. */
  readonly verdict?: StudyVerdict | null;
  readonly limitations: readonly string[];
  readonly caution: string;
  /** Of the second sample, where the protocol names one; all else is then of the development sample. */
  readonly validation?: ValidationSample;
}

/** What a second sample of other children says; nothing is chosen on it. */
export interface ValidationSample
  extends Pick<
    StudyResult,
    "flow" | "problems" | "agreement" | "conditions" | "verdict" | "limitations"
  > {
  /** Conditions at the limit that the development sample chose, where it chose one. */
  readonly chosen: readonly ConditionResult[];
}
