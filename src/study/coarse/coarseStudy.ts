import {
  type CoarseCount,
  rateWithin,
  type SmallCounts,
  smallCounts,
} from "../../disclosure/index.js";
import { type CoarsePairs, coarsePairs } from "../../privacy/index.js";
import { type Protocol, sampleProtocol } from "../../protocol/index.js";
import type { ProgrammeSource } from "../run/programmeOf.js";
import type { AgreementResult, StudyResult } from "../run/studyResult.js";
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
import { type ConditionWords, wordsOf } from "./conditionWords.js";
import { isSafe, isSafeTogether, joined, type Ledger, noLedger, shownTogether } from "./ledger.js";
import {
  cellsLedger,
  conditionLedger,
  curveLedger,
  hasSameRows,
  type Placed,
  wholeLedgers,
} from "./ledgers.js";
import { nestedLedger } from "./nestedLedgers.js";
import { countedTogether, type Totals, totalFlow, totalRows } from "./together.js";
import {
  type PublicAgreement,
  type PublicAstigmatism,
  publicAgreement,
  publicAstigmatism,
} from "./publicAgreement.js";

declare const coarse: unique symbol;

/** What the public may know of a condition. */
export interface CoarseCondition extends ConditionWords {
  /** Null where the counts would narrow a small one of the tables before it. */
  readonly counts: CoarseCounts | null;
}

export interface CoarseCounts {
  /** Of the examined rows. */
  readonly table: CoarseTable;
  /** All rows, examined or not: the same count wherever it is shown. */
  readonly rows: CoarseCount;
  readonly examined: CoarseCount;
  /** Null where everybody was examined. */
  readonly unexamined: CoarseCount | null;
  /** The same by what the referral under study says of them. */
  readonly unexaminedBy: { readonly refer: CoarseCount; readonly pass: CoarseCount } | null;
  readonly rates: CoarseRates;
  readonly bounds: ReturnType<typeof coarseBounds> | null;
  readonly curve: CoarseCurve | null;
  /** Of the first condition only, so that the equations form a tree. */
  readonly groups: readonly CoarseGroups[];
}

/** A protocol without the names of files. */
export type PublicProtocol = Omit<Protocol, "sources" | "identifiers" | "note" | "samples"> & {
  readonly samples?: SamplesByColumn | { readonly by?: undefined; readonly note?: string };
};
type SamplesByColumn = Extract<Protocol["samples"], { readonly by: string }>;

/**
 * All that a public report is made of: no exact count, no number of one child, no name of a file.
 * Only `coarseStudy` makes one.
 */
export interface CoarseStudy {
  readonly kind: "coarse-study";
  readonly protocol: PublicProtocol;
  readonly protocolHash: string;
  readonly rule: SmallCounts;
  /** Null where children and eyes together would tell how many have one eye in the study, or two, or two samples of the same files how many are in one. */
  readonly flow: CoarseFlow | null;
  /** Small counts that were counted together, which makes totals narrower. */
  readonly together: Totals;
  readonly agreement: readonly PublicAgreement[];
  readonly astigmatism: PublicAstigmatism | null;
  readonly conditions: readonly CoarseCondition[];
  /** Of the first condition; null where nothing says that there was a programme. */
  readonly programme: CoarseProgramme | null;
  /** On the criteria stated in advance, from coarse rates alone; null without any. */
  readonly verdict: StudyVerdict<CoarseFinding> | null;
  /** The other sample, made coarse on its own: no child is in both; null where there is one sample. */
  readonly validation: CoarseStudy | null;
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
  const { validation, protocol } = result;
  if (validation === undefined || protocol.samples === undefined) {
    return coarseSample(result, { hasFlow: true, validation: null });
  }
  // of two samples in the same files, whoever is left out of one is in the other
  const hasFlow = !("by" in protocol.samples);
  const own = {
    ...result,
    ...validation,
    protocol: sampleProtocol(protocol, "validation"),
    validation: undefined,
    programme: null,
    astigmatism: null,
  };
  return coarseSample(result, {
    hasFlow,
    validation: coarseSample(own, { hasFlow, validation: null }),
  });
}

/** What is known of a sample beside its result. */
interface SampleFacts {
  readonly hasFlow: boolean;
  readonly validation: CoarseStudy | null;
}

function coarseSample(result: StudyResult, facts: SampleFacts): CoarseStudy {
  const hasOthers = result.conditions.length > 1;
  const tries: readonly Shown[] = [
    everything,
    ...(hasOthers ? [{ ...everything, others: false }] : []),
    { ...everything, agreement: false },
    ...(hasOthers ? [{ ...everything, agreement: false, others: false }] : []),
    { ...nothing, flow: true },
  ];
  for (const wanted of tries) {
    const { study, ledger, fewerThan } = coarseOf(result, wanted, facts);
    if (isSafeTogether(ledger, fewerThan)) return study();
  }
  return coarseOf(result, nothing, facts).study();
}

/** Which tables are shown beside the counts of the first condition, as far as they are safe one by one. */
interface Shown {
  readonly others: boolean;
  readonly agreement: boolean;
  /** Groups, stops of the curve and parts of the programme's figures. */
  readonly parts: boolean;
  readonly flow: boolean;
}
const everything: Shown = { others: true, agreement: true, parts: true, flow: true };
const nothing: Shown = { others: false, agreement: false, parts: false, flow: false };

function coarseOf(
  result: StudyResult,
  wanted: Shown,
  { hasFlow, validation }: SampleFacts,
): {
  /** With totals that are as narrow as the ledger lets them be. */
  readonly study: () => CoarseStudy;
  readonly ledger: Ledger;
  readonly fewerThan: number;
} {
  const { sources: _, identifiers: __, note: ___, samples, ...open } = result.protocol;
  const protocol: PublicProtocol = {
    ...open,
    ...(samples === undefined ? {} : { samples: "by" in samples ? samples : {} }),
  };
  const rule = result.protocol.smallCounts ?? smallCounts;
  const [first, ...others] = result.conditions.map(
    (condition): Placed => ({ condition, cells: coarseCells(condition.cells.cells, rule) }),
  );
  const made = coarseFlow(first!.condition, first!.cells, protocol, rule);
  const whole = wholeLedgers(first!, made, rule);
  const isFlow = wanted.flow && hasFlow && whole.every((ledger) => isSafe(ledger, rule.fewerThan));
  const flow = isFlow ? made : null;
  const shown = shownTogether(flow === null ? [cellsLedger(first!)] : whole, rule.fewerThan);
  const addPart = (more: Ledger) => wanted.parts && shown.add(more);
  let beside = noLedger;
  let differences = noLedger;
  const pairs = drawnPairs(result, rule);
  const eyes = agreementEyes(
    {
      agreement: result.agreement,
      pairs,
      first: first!,
      protocol: result.protocol,
      rule,
      add: shown.add,
      beside: (more) => {
        beside = joined(beside, more);
      },
    },
    wanted.agreement,
  );
  const groupings = first!.condition.subgroups.map((grouping) => ({
    by: grouping.by,
    groups: groupCells(grouping, protocol, rule),
  }));
  const groups = groupings.map((grouping, at) =>
    coarseGroups(first!.condition, at, protocol, grouping.groups, addPart),
  );
  const described = result.programme?.[0];
  const programmeOf =
    described === undefined
      ? null
      : coarseProgramme({
          first: first!,
          programme: described,
          groupings,
          flow,
          protocol: result.protocol,
          rule,
          add: addPart,
          beside: (more) => {
            differences = joined(differences, more);
          },
        });
  const ratesOf = (cells: Placed["cells"], condition: Placed["condition"]) => {
    const rates = coarseRates(cells, condition.cells, protocol);
    if (protocol.verification === "complete") return { rates, bounds: null };
    const bounds = coarseBounds(cells);
    const { sensitivity, specificity } = rates;
    return {
      rates: {
        ...rates,
        sensitivity: rateWithin(sensitivity, bounds.sensitivity),
        specificity: rateWithin(specificity, bounds.specificity),
      },
      bounds,
    };
  };
  const countsOf = (place: Placed, own: readonly CoarseGroups[]): Omit<CoarseCounts, "rows"> => {
    const { condition, cells } = place;
    const curve = coarseCurve(condition, result.protocol, rule);
    const complete = protocol.verification === "complete";
    const unexaminedOf = (side: "refer" | "pass") =>
      rowsIn(cells.filter((cell) => tableCellOf(cell) === null && cell.studied === side));
    return {
      table: coarseTable(cells),
      examined: rowsIn(cells.filter((cell) => tableCellOf(cell) !== null)),
      unexamined: complete ? null : rowsIn(cells.filter((cell) => tableCellOf(cell) === null)),
      unexaminedBy: complete ? null : { refer: unexaminedOf("refer"), pass: unexaminedOf("pass") },
      ...ratesOf(cells, condition),
      curve: curve !== null && addPart(curveLedger(place, curve)) ? curve : null,
      groups: own,
    };
  };
  const kept = [first!];
  const shownOthers = others.map((place) => {
    const own = conditionLedger(place, first!, rule);
    const nested = nestedLedger(place, kept, result.protocol, rule);
    const isKept =
      wanted.others &&
      isSafeTogether(joined(shown.all(), beside, own, nested), rule.fewerThan) &&
      shown.add(own);
    if (isKept) {
      beside = joined(beside, nested);
      kept.push(place);
    }
    return { place, counts: isKept ? countsOf(place, []) : null };
  });
  const placed = [{ place: first!, counts: countsOf(first!, groups) }, ...shownOthers];
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
  const ledger = joined(shown.all(), beside);
  const study = (): Omit<CoarseStudy, typeof coarse> => {
    const together = countedTogether(first!, flow, joined(ledger, differences), rule);
    const rows = totalRows(first!.cells, together);
    const conditions = placed.map(({ place, counts }): CoarseCondition => {
      const words = wordsOf(place.condition);
      if (counts === null) return { ...words, counts };
      const own = hasSameRows(place, first!) ? rows : rowsIn(place.cells);
      const ofExamined = protocol.verification === "complete" ? { examined: own } : {};
      return { ...words, counts: { ...counts, rows: own, ...ofExamined } };
    });
    return {
      kind: "coarse-study",
      protocol,
      protocolHash: result.protocolHash,
      rule,
      flow: flow && totalFlow(flow, first!.cells, together),
      together,
      agreement,
      programme: programmeOf?.(rows) ?? null,
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
      validation,
      caution: result.caution,
      methods: {
        shareMethod: first!.condition.accuracy.method,
        decision: first!.condition.verification?.programme.source ?? null,
      },
    };
  };
  return { study: () => study() as CoarseStudy, ledger, fewerThan: rule.fewerThan };
}

/** What the figures of agreement draw of the eyes. */
function drawnPairs({ agreement, astigmatism }: StudyResult, rule: SmallCounts) {
  const all = agreement.map(({ quantity, shown }) => [quantity, coarsePairs(shown, rule)] as const);
  return {
    ...(Object.fromEntries(all) as { [quantity in AgreementResult["quantity"]]?: CoarsePairs }),
    ...(astigmatism === null ? {} : { plane: coarsePairs(astigmatism.shown, rule) }),
  };
}
