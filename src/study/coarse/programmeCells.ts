import type { CoarseCount, SmallCounts } from "../../disclosure/index.js";
import { restOf } from "../../disclosure/index.js";
import type { CoarseFigures, CoarseShare } from "../../programme/index.js";
import type { Protocol } from "../../protocol/index.js";
import type { ConditionCell } from "../run/studyCells.js";
import type { ConditionProgramme } from "../run/studyResult.js";
import type { CoarseCell } from "./coarseCondition.js";
import type { CoarseFlow } from "./coarseFlow.js";
import type { Group } from "./coarseGroups.js";
import { coarseRates } from "./coarseRates.js";
import type { Ledger } from "./ledger.js";
import type { Placed } from "./ledgers.js";

/** What a programme decided of a child. */
export type Decision = "refer" | "pass" | "unable";
export const decisions: readonly Decision[] = ["refer", "pass", "unable"];

/** What is known of the children of one decision; cells null where their exams are not shown. */
export interface Decided {
  readonly total: readonly CoarseCount[];
  readonly cells: readonly CoarseCell[] | null;
}
export type ByDecision = { readonly [decision in Decision]: Decided | null };

/** What the tables of a programme are added to. */
export interface ProgrammePlace {
  readonly first: Placed;
  readonly programme: ConditionProgramme;
  readonly groupings: readonly { readonly by: string; readonly groups: readonly Group[] }[];
  readonly flow: CoarseFlow | null;
  readonly protocol: Protocol;
  readonly rule: SmallCounts;
  /** Whether one more table may be shown beside the others. */
  readonly add: (ledger: Ledger) => boolean;
  /** Takes differences of counts that are shown, which were weighed by themselves. */
  readonly beside: (ledger: Ledger) => void;
}

/** The referred, the unable with them where the protocol counts them so. */
export const referredOf = ({ undecidable }: Protocol): readonly Decision[] =>
  undecidable === "refer" ? ["refer", "unable"] : ["refer"];

/** The figures that follow from what was decided and found. */
export function figuresOf(
  byDecision: ByDecision,
  knownStand: boolean,
  protocol: Protocol,
): CoarseFigures {
  const { refer, pass, unable } = byDecision;
  if (refer === null || pass === null || unable === null) return { shares: {}, corrected: {} };
  const isUnableReferred = protocol.undecidable === "refer";
  const referred = isUnableReferred ? [refer, unable] : [refer];
  const others = isUnableReferred ? [pass] : [pass, unable];
  const totalsOf = (list: readonly Decided[]) => list.flatMap(({ total }) => total);
  const share = (counted: readonly CoarseCount[], rest: readonly CoarseCount[]): CoarseShare => ({
    counted,
    rest,
  });
  const ofScreened = (...parts: Parameters<typeof share>): CoarseShare => ({
    ...share(...parts),
    screened: "of",
  });
  const shares: CoarseFigures["shares"] = {
    unable: ofScreened(unable.total, totalsOf([refer, pass])),
    referred: ofScreened(totalsOf(referred), totalsOf(others)),
  };
  const exams = referred.flatMap(({ cells }) => cells ?? []);
  if (referred.some(({ cells }) => cells === null)) return { shares, corrected: {} };
  const of = (...states: readonly ConditionCell["state"][]) =>
    exams.filter(({ state }) => states.includes(state)).map(({ count }) => count);
  const [found, sound] = [of("with"), of("without")];
  const ofExams = {
    found: ofScreened(found, [...sound, ...of("unexamined"), ...totalsOf(others)]),
    examined: share([...found, ...sound], of("unexamined")),
    predictiveValue: share(found, sound),
    examsPerCase: share(found, sound),
  };
  if (others.some(({ cells }) => cells === null)) {
    return { shares: { ...shares, ...ofExams }, corrected: {} };
  }
  const rates = coarseRates(
    [...referred, ...others].flatMap(({ cells }) => cells ?? []),
    { knownStand },
    protocol,
    figuresOfCells,
  );
  return {
    shares: { ...shares, ...ofExams },
    corrected: {
      correctedYield: rates.found,
      correctedPredictiveValue: rates.positivePredictiveValue,
      missed: rates.negativePredictiveValue && restOf(rates.negativePredictiveValue),
      prevalence: rates.prevalence,
      sensitivity: rates.sensitivity,
      specificity: rates.specificity,
    },
  };
}

/** The rates that a programme's figures take. */
const figuresOfCells = [
  "sensitivity",
  "specificity",
  "positivePredictiveValue",
  "negativePredictiveValue",
  "prevalence",
  "found",
] as const;
