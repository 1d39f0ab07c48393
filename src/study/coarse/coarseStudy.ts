import { type CoarseCount, type SmallCounts, smallCounts } from "../../disclosure/index.js";
import { type CoarsePairs, coarsePairs } from "../../privacy/index.js";
import type { Protocol } from "../../protocol/index.js";
import type { ProgrammeSource } from "../run/programmeOf.js";
import type { AgreementResult, ConditionResult, StudyResult } from "../run/studyResult.js";
import type { StudyVerdict } from "../run/verdict.js";
import { agreementEyes } from "./agreementEyes.js";
import {
  type CoarseTable,
  coarseCells,
  coarseTable,
  rowsIn,
  tableCellOf,
} from "./coarseCondition.js";
import { type CoarseCurve, coarseCurve } from "./coarseCurve.js";
import { type CoarseFlow, coarseFlow } from "./coarseFlow.js";
import { type CoarseGroups, coarseGroups, groupCells } from "./coarseGroups.js";
import { type CoarseProgramme, coarseProgramme } from "./coarseProgramme.js";
import { type CoarseRates, coarseBounds, coarseRates } from "./coarseRates.js";
import { type CoarseFinding, coarseVerdict } from "./coarseVerdict.js";
import { isSafe, shownTogether } from "./ledger.js";
import {
  cellsLedger,
  conditionLedger,
  curveLedger,
  nestedLedgers,
  type Placed,
  wholeLedgers,
} from "./ledgers.js";
import {
  type PublicAgreement,
  type PublicAstigmatism,
  publicAgreement,
  publicAstigmatism,
} from "./publicAgreement.js";

declare const coarse: unique symbol;

/** What a condition says of itself, without a count. */
export type ConditionWords = Pick<
  ConditionResult,
  "id" | "title" | "role" | "definition" | "citation" | "caution" | "target" | "referWhen"
> & {
  readonly rules: Pick<NonNullable<ConditionResult["rules"]>, "refer" | "condition"> | null;
};

/** What the public may know of a condition. */
export interface CoarseCondition extends ConditionWords {
  /** Null where the counts would narrow a small one of the tables before it. */
  readonly counts: CoarseCounts | null;
}

export interface CoarseCounts {
  /** Of the examined rows. */
  readonly table: CoarseTable;
  readonly examined: CoarseCount;
  /** Null where everybody was examined. */
  readonly unexamined: CoarseCount | null;
  readonly rates: CoarseRates;
  readonly bounds: ReturnType<typeof coarseBounds> | null;
  readonly curve: CoarseCurve | null;
  /** Of the first condition only, so that the equations form a tree. */
  readonly groups: readonly CoarseGroups[];
}

/** A protocol without the names of files. */
export type PublicProtocol = Omit<Protocol, "sources" | "identifiers" | "note">;

/**
 * All that a public report is made of: no exact count, no number of one child, no name of a file.
 * Only `coarseStudy` makes one.
 */
export interface CoarseStudy {
  readonly kind: "coarse-study";
  readonly protocol: PublicProtocol;
  readonly protocolHash: string;
  readonly rule: SmallCounts;
  /** Null where children and eyes together would tell how many have one eye in the study, or two. */
  readonly flow: CoarseFlow | null;
  readonly agreement: readonly PublicAgreement[];
  readonly astigmatism: PublicAstigmatism | null;
  readonly conditions: readonly CoarseCondition[];
  /** Of the first condition; null where nothing says that there was a programme. */
  readonly programme: CoarseProgramme | null;
  /** On the criteria stated in advance, from coarse rates alone; null without any. */
  readonly verdict: StudyVerdict<CoarseFinding> | null;
  readonly caution: string;
  /** How intervals of shares were made, and where the programme's decision is known from. */
  readonly methods: {
    readonly shareMethod: string;
    readonly decision: ProgrammeSource["source"] | null;
  };
  readonly [coarse]: true;
}

/**
 * A study for the public: its cells made coarse first, and everything else computed from them.
 * Tables that share children are added one by one; one that would narrow a small count stays out.
 */
export function coarseStudy(result: StudyResult): CoarseStudy {
  const { sources: _, identifiers: __, note: ___, ...protocol } = result.protocol;
  const rule = result.protocol.smallCounts ?? smallCounts;
  const [first, ...others] = result.conditions.map(
    (condition): Placed => ({ condition, cells: coarseCells(condition.cells.cells, rule) }),
  );
  const made = coarseFlow(first!.condition, first!.cells, protocol, rule);
  const whole = wholeLedgers(first!, made, rule);
  const flow = whole.every((ledger) => isSafe(ledger, rule.fewerThan)) ? made : null;
  const shown = shownTogether(flow === null ? [cellsLedger(first!)] : whole, rule.fewerThan);
  const pairs = drawnPairs(result, rule);
  const eyes = agreementEyes({
    agreement: result.agreement,
    pairs,
    first: first!,
    protocol: result.protocol,
    rule,
    add: shown.add,
  });
  const groupings = first!.condition.subgroups.map((grouping) => ({
    by: grouping.by,
    groups: groupCells(grouping, protocol, rule),
  }));
  const groups = groupings.map((grouping, at) =>
    coarseGroups(first!.condition, at, protocol, grouping.groups, shown.add),
  );
  const described = result.programme?.[0];
  const programme =
    described === undefined
      ? null
      : coarseProgramme({
          first: first!,
          programme: described,
          groupings,
          flow,
          protocol: result.protocol,
          rule,
          add: shown.add,
        });
  const countsOf = (place: Placed, own: readonly CoarseGroups[]): CoarseCounts => {
    const { condition, cells } = place;
    const curve = coarseCurve(condition, result.protocol, rule);
    const complete = protocol.verification === "complete";
    return {
      table: coarseTable(cells),
      examined: rowsIn(cells.filter((cell) => tableCellOf(cell) !== null)),
      unexamined: complete ? null : rowsIn(cells.filter((cell) => tableCellOf(cell) === null)),
      rates: coarseRates(cells, condition.cells, protocol),
      bounds: complete ? null : coarseBounds(cells),
      curve: curve !== null && shown.add(curveLedger(place, curve)) ? curve : null,
      groups: own,
    };
  };
  const kept = [first!];
  const conditions = [
    { ...wordsOf(first!.condition), counts: countsOf(first!, groups) },
    ...others.map((place): CoarseCondition => {
      const isKept =
        nestedLedgers(place, kept, result.protocol, rule).every((one) =>
          isSafe(one, rule.fewerThan),
        ) && shown.add(conditionLedger(place, first!, rule));
      if (isKept) kept.push(place);
      return { ...wordsOf(place.condition), counts: isKept ? countsOf(place, []) : null };
    }),
  ];
  const examined = rowsIn(first!.cells.filter((cell) => tableCellOf(cell) !== null));
  // a component of too few children is as one that no eye has
  const agreement = result.agreement
    .filter(({ quantity }) => quantity === "M" || eyes[quantity] !== null)
    .map((one) =>
      publicAgreement(one, pairs[one.quantity]!, eyes, {
        groupings: groups,
        examined,
        protocol: result.protocol,
      }),
    );
  const study: Omit<CoarseStudy, typeof coarse> = {
    kind: "coarse-study",
    protocol,
    protocolHash: result.protocolHash,
    rule,
    flow,
    agreement,
    programme,
    astigmatism:
      result.astigmatism &&
      eyes.plane &&
      publicAstigmatism(result.astigmatism, pairs.plane!, eyes.plane, result.protocol),
    conditions,
    verdict: coarseVerdict(
      protocol,
      conditions,
      agreement.find(({ quantity }) => quantity === "M")!.within,
    ),
    caution: result.caution,
    methods: {
      shareMethod: first!.condition.accuracy.method,
      decision: first!.condition.verification?.programme.source ?? null,
    },
  };
  return study as CoarseStudy;
}

/** What the figures of agreement draw of the eyes. */
function drawnPairs({ agreement, astigmatism }: StudyResult, rule: SmallCounts) {
  const all = agreement.map(({ quantity, shown }) => [quantity, coarsePairs(shown, rule)] as const);
  return {
    ...(Object.fromEntries(all) as { [quantity in AgreementResult["quantity"]]?: CoarsePairs }),
    ...(astigmatism === null ? {} : { plane: coarsePairs(astigmatism.shown, rule) }),
  };
}

function wordsOf(condition: ConditionResult): ConditionWords {
  const { id, title, role, definition, citation, caution, target, referWhen, rules } = condition;
  return {
    id,
    title,
    role,
    definition,
    citation,
    caution,
    target,
    referWhen,
    rules: rules && { refer: rules.refer, condition: rules.condition },
  };
}
