import {
  type CoarseCount,
  coarsen,
  restOf,
  type SmallCounts,
  totalOf,
} from "../../disclosure/index.js";
import {
  type CoarseFigures,
  type CoarseProgrammeMeasure,
  type CoarseShare,
  coarseMeasures,
  correctedFigures,
  programmeFigures,
} from "../../programme/index.js";
import type { Protocol } from "../../protocol/index.js";
import { sum } from "../../rows/index.js";
import type { ConditionCell } from "../run/studyCells.js";
import type { ConditionProgramme } from "../run/studyResult.js";
import { type CoarseCell, coarseRates, tableCellOf } from "./coarseCondition.js";
import type { CoarseFlow } from "./coarseFlow.js";
import { type Group, groupsLedger, sideOf } from "./coarseGroups.js";
import { impliedCount, isSafe, joined, type Ledger, noLedger, sumLedger } from "./ledger.js";
import { decisionName, type Placed, stateName } from "./ledgers.js";

/** A programme's figures for the public, or why there are none. */
export type CoarseProgramme =
  | { readonly kind: "withheld"; readonly reason: string }
  | {
      readonly kind: "coarse-programme";
      readonly title: string;
      readonly source: ConditionProgramme["source"];
      readonly measures: readonly CoarseProgrammeMeasure[];
      readonly groupings: readonly {
        readonly by: string;
        readonly groups: readonly {
          readonly group: string;
          readonly measures: readonly CoarseProgrammeMeasure[];
        }[];
      }[];
      /** Figures that are not shown, by the reason. */
      readonly notShown: readonly { readonly reason: string; readonly words: readonly string[] }[];
    };

type Decision = "refer" | "pass" | "unable";
const decisions: readonly Decision[] = ["refer", "pass", "unable"];

/** What is known of the children of one decision; cells null where their exams are not shown. */
interface Decided {
  readonly total: readonly CoarseCount[];
  readonly cells: readonly CoarseCell[] | null;
}
type ByDecision = { readonly [decision in Decision]: Decided | null };

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
}

/**
 * A programme in figures for the public: from the cells of the first condition, so that no count beside them
 * says more, and from parts of these cells where each part keeps its range.
 */
export function coarseProgramme(place: ProgrammePlace): CoarseProgramme {
  const { first, programme, groupings, flow, protocol } = place;
  const { cells, knownStand } = {
    cells: first.cells,
    knownStand: first.condition.cells.knownStand,
  };
  const withheld = (reason: string): CoarseProgramme => ({ kind: "withheld", reason });
  if (protocol.verification === "complete") {
    return withheld(
      "everybody was to be examined: the tables of accuracy say what was found, and what the programme decided beside them would narrow small counts",
    );
  }
  if (flow === null || cells.some(({ eyes }) => eyes === 2)) {
    return withheld("the rows are eyes, and children beside them would say too much");
  }
  if (!isOfTheseCells(place)) {
    return withheld(
      "its children are not those of the first condition's rows, and the difference may be small",
    );
  }
  const byDecision = Object.fromEntries(
    decisions.map((decision): [Decision, Decided] => {
      const own = cells
        .filter(({ recorded }) => recorded === decision)
        .map((cell) => ({ ...cell, studied: sideOf(cell, protocol.undecidable) }));
      return [decision, { total: own.map(({ count }) => count), cells: own }];
    }),
  ) as { [decision in Decision]: Decided };
  const whole = figuresOf(byDecision, knownStand, protocol);
  const parts = partShares(place);
  const measures = coarseMeasures(
    { ...whole, shares: { ...whole.shares, ...parts } },
    protocol.level,
  );
  return {
    kind: "coarse-programme",
    title: programme.title,
    source: programme.source,
    measures,
    groupings: groupings.map(({ by, groups }, at) => ({
      by,
      groups: groupFigures(place, groups, at),
    })),
    notShown: notShownBut(measures, place),
  };
}

/** Whether the programme's children are exactly those of the cells, decision by decision. */
function isOfTheseCells({ first, programme }: ProgrammePlace): boolean {
  const { byDecision } = programme;
  const childrenOf = (keep: (cell: ConditionCell) => boolean) =>
    sum(first.condition.cells.cells.filter(keep).map(({ children }) => children));
  return decisions.every((decision) => {
    const own = byDecision[decision];
    const of = (states: readonly ConditionCell["state"][]) =>
      childrenOf(({ recorded, state }) => recorded === decision && states.includes(state));
    const isReferred = decision !== "pass";
    return (
      own.screened === childrenOf(({ recorded }) => recorded === decision) &&
      (isReferred ? own.examined : own.examinedOthers) ===
        of(["with", "without", "known-with", "known-without"]) &&
      (isReferred ? own.found : own.foundOthers) === of(["with", "known-with"])
    );
  });
}

/** The figures that follow from what was decided and found. */
function figuresOf(byDecision: ByDecision, knownStand: boolean, protocol: Protocol): CoarseFigures {
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
  const shares: CoarseFigures["shares"] = {
    unable: share(unable.total, totalsOf([refer, pass])),
    referred: share(totalsOf(referred), totalsOf(others)),
  };
  const exams = referred.flatMap(({ cells }) => cells ?? []);
  if (referred.some(({ cells }) => cells === null)) return { shares, corrected: {} };
  const of = (...states: readonly ConditionCell["state"][]) =>
    exams.filter(({ state }) => states.includes(state)).map(({ count }) => count);
  const [found, sound] = [of("with"), of("without")];
  const ofExams = {
    found: share(found, [...sound, ...of("unexamined"), ...totalsOf(others)]),
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

/** Figures of parts of the cells, each added where every small part keeps its range. */
function partShares(place: ProgrammePlace): CoarseFigures["shares"] {
  const given = (name: string, share: CoarseShare | null) =>
    share === null ? {} : { [name]: share };
  return {
    ...given("screened", screenedOf(place)),
    ...given("followUp", followUpOf(place)),
    ...given("departures", departuresOf(place)),
    ...triesOf(place),
    ...withinDaysOf(place),
  };
}

const of = (list: readonly CoarseCell[], keep: (cell: CoarseCell) => boolean) =>
  list.filter(keep).map(({ count }) => count);

/** The eligible whom nobody tried are some of those who are left out first. */
function screenedOf({ first, programme, flow, rule, add }: ProgrammePlace): CoarseShare | null {
  const { eligible, screened } = programme.description.overall.counts;
  const others = first.condition.cells.apart.before - (eligible - screened);
  if (flow === null || others < 0) return null;
  const notScreened = coarsen(eligible - screened, rule);
  const { low, high } = notScreened;
  const ledger = joined(impliedCount("not eligible", others, rule.fewerThan), {
    known: [{ name: "not screened", low, high }],
    equations: [{ whole: "before", parts: [{ name: "not screened" }, { name: "not eligible" }] }],
    small: low === 0 ? ["not screened"] : [],
  });
  if (!add(ledger)) return null;
  return { counted: first.cells.map(({ count }) => count), rest: [notScreened] };
}

/** The referred, the unable with them where the protocol counts them so. */
const referredOf = ({ undecidable }: Protocol): readonly Decision[] =>
  undecidable === "refer" ? ["refer", "unable"] : ["refer"];

/** The unexamined are those not asked, those who did not come and those whose exam gave no answer. */
function followUpOf({ first, programme, protocol, rule, add }: ProgrammePlace): CoarseShare | null {
  const { condition, cells } = first;
  const parts = referredOf(protocol).map((decision) => {
    const { referred, invitedReferred, came, examined, examinedUnasked } =
      programme.byDecision[decision];
    return {
      decision,
      isSplit: examinedUnasked === 0 && came >= examined,
      didNotCome: coarsen(invitedReferred - came, rule),
      noAnswer: coarsen(Math.max(0, came - examined), rule),
      notAsked: coarsen(referred - invitedReferred, rule),
    };
  });
  if (!parts.every(({ isSplit }) => isSplit)) return null;
  const ledger = joined(
    ...parts.map(({ decision, didNotCome, noAnswer, notAsked }) => {
      const whole = stateName(condition, { recorded: decision, state: "unexamined" });
      return sumLedger(whole, [
        { name: `${whole} did not come`, count: didNotCome },
        { name: `${whole} no answer`, count: noAnswer },
        ...(programme.isAskedRecorded ? [{ name: `${whole} not asked`, count: notAsked }] : []),
      ]);
    }),
  );
  if (!add(ledger)) return null;
  const examined = of(
    cells,
    (cell) =>
      parts.some(({ decision }) => decision === cell.recorded) && tableCellOf(cell) !== null,
  );
  return {
    counted: [...examined, ...parts.map(({ noAnswer }) => noAnswer)],
    rest: parts.map(({ didNotCome }) => didNotCome),
  };
}

/** Decisions against the declared rule, of the children of each decision. */
function departuresOf({
  first,
  programme,
  protocol,
  rule,
  add,
}: ProgrammePlace): CoarseShare | null {
  const byDecision = programme.byDecision;
  const { condition, cells } = first;
  if (programme.description.overall.counts.departures === null) return null;
  if (
    !decisions.every((decision) => byDecision[decision].compared === byDecision[decision].screened)
  )
    return null;
  const exactAgainst = (decision: Decision) =>
    sum(
      condition.cells.cells
        .filter((cell) => isAgainst(cell, decision, protocol))
        .map(({ children }) => children),
    );
  const declared = JSON.stringify(protocol.programme?.referWhen);
  const studied = protocol.conditions.find(({ id }) => id === condition.id)!.referWhen;
  const isStudied = JSON.stringify(studied) === declared;
  if (isStudied) {
    // the same rule: its departures are cells already
    if (decisions.some((decision) => exactAgainst(decision) !== byDecision[decision].departures))
      return null;
    const isOne = (cell: CoarseCell) => decisions.some((one) => isAgainst(cell, one, protocol));
    return { counted: of(cells, isOne), rest: of(cells, (cell) => !isOne(cell)) };
  }
  const parts = decisions.map((decision) => {
    const { departures, screened } = byDecision[decision];
    return {
      decision,
      exact: departures ?? 0,
      rest: screened - (departures ?? 0),
      against: coarsen(departures ?? 0, rule),
      asDeclared: coarsen(screened - (departures ?? 0), rule),
    };
  });
  // a limit within the declared rule: the children between the two follow from both
  const isNarrowed = parts.some(({ decision, exact, against, rest, asDeclared }) => {
    const studiedAgainst = of(cells, (cell) => isAgainst(cell, decision, protocol));
    if (studiedAgainst.length === 0) return false;
    const other = { exact: exactAgainst(decision), count: totalOf(studiedAgainst) };
    return (
      !isSafeBetween({ exact, count: against }, other, rule) ||
      !isSafeBetween({ exact: rest, count: asDeclared }, other, rule)
    );
  });
  if (isNarrowed) return null;
  const ledger = joined(
    ...parts.map(({ decision, against, asDeclared }) => {
      const whole = decisionName(condition, decision);
      return sumLedger(whole, [
        { name: `${whole} against the rule`, count: against },
        { name: `${whole} by the rule`, count: asDeclared },
      ]);
    }),
  );
  if (!add(ledger)) return null;
  return {
    counted: parts.map(({ against }) => against),
    rest: parts.map(({ asDeclared }) => asDeclared),
  };
}

function isAgainst(
  cell: Pick<ConditionCell, "recorded" | "studied">,
  decision: Decision,
  { undecidable }: Protocol,
): boolean {
  return cell.recorded === decision && cell.studied !== sideOf(cell, undecidable);
}

/** Tried again, and unable at first: each of all who were screened. */
function triesOf({ first, programme, rule, add }: ProgrammePlace): CoarseFigures["shares"] {
  const { screened, firstKnown, unableAtFirst, rescreened, unable } =
    programme.description.overall.counts;
  const rows = `${first.condition.id} rows`;
  const part = (name: string, exact: number | null) =>
    exact === null
      ? null
      : {
          name,
          exact,
          count: coarsen(exact, rule),
          rest: coarsen(screened - exact, rule),
        };
  const shownPart = (
    one: ReturnType<typeof part>,
    beside: readonly { readonly exact: number; readonly count: CoarseCount }[],
  ): CoarseShare | null => {
    if (one === null || !beside.every((other) => isSafeBetween(one, other, rule))) return null;
    const { name, count, rest } = one;
    const ledger = sumLedger(rows, [
      { name, count },
      { name: `not ${name}`, count: rest },
    ]);
    return add(ledger) ? { counted: [count], rest: [rest] } : null;
  };
  const unread = {
    exact: unable,
    count: totalOf(of(first.cells, ({ recorded }) => recorded === "unable")),
  };
  const atFirst = firstKnown === screened ? part("unable at first", unableAtFirst) : null;
  const unableShown = shownPart(atFirst, [unread]);
  const again = shownPart(part("tried again", rescreened), [
    unread,
    ...(unableShown === null ? [] : [atFirst!]),
  ]);
  return {
    ...(unableShown === null ? {} : { unableAtFirst: unableShown }),
    ...(again === null ? {} : { rescreened: again }),
  };
}

/** Of the referred: examined in time, later, or on an unknown day. */
function withinDaysOf({
  first,
  programme,
  protocol,
  rule,
  add,
}: ProgrammePlace): CoarseFigures["shares"] {
  const byDecision = programme.byDecision;
  const split = referredOf(protocol).map((decision) => {
    const { referred, daysKnown, withinDays, examined, came } = byDecision[decision];
    if (daysKnown === null || withinDays === null) return null;
    const within = coarsen(withinDays, rule);
    const later = coarsen(daysKnown - withinDays, rule);
    const seen = of(
      first.cells,
      (cell) => cell.recorded === decision && tableCellOf(cell) !== null,
    );
    const known = { exact: daysKnown, count: totalOf([within, later]) };
    const beside = [
      { exact: examined, count: totalOf(seen) },
      { exact: came, count: totalOf([...seen, coarsen(Math.max(0, came - examined), rule)]) },
    ];
    if (!beside.every((other) => isSafeBetween(known, other, rule))) return null;
    const whole = decisionName(first.condition, decision);
    const ledger = sumLedger(whole, [
      { name: `${whole} in time`, count: within },
      { name: `${whole} later`, count: later },
      { name: `${whole} no day`, count: coarsen(referred - daysKnown, rule) },
    ]);
    return { within, later, ledger };
  });
  const known = split.filter((one) => one !== null);
  if (known.length < split.length || !add(joined(...known.map(({ ledger }) => ledger)))) return {};
  return {
    withinDays: {
      counted: known.map(({ within }) => within),
      rest: known.map(({ later }) => later),
    },
  };
}

interface Counted {
  readonly exact: number;
  readonly count: CoarseCount;
}

/** Whether the difference of two counts keeps its range where it is small. */
function isSafeBetween(one: Counted, other: Counted, { fewerThan }: SmallCounts): boolean {
  const [more, less] = one.exact >= other.exact ? [one, other] : [other, one];
  const ledger = joined(impliedCount("between", more.exact - less.exact, fewerThan), {
    ...noLedger,
    known: [
      { name: "more", low: more.count.low, high: more.count.high },
      { name: "less", low: less.count.low, high: less.count.high },
    ],
    equations: [{ whole: "more", parts: [{ name: "less" }, { name: "between" }] }],
  });
  return isSafe(ledger, fewerThan);
}

/**
 * The figures of groups: of each decision by how its exams ended, or, where that would narrow a small count,
 * as one number, or not at all; for all groups alike.
 */
function groupFigures(
  { first, protocol, add }: ProgrammePlace,
  groups: readonly Group[],
  grouping: number,
) {
  const { condition } = first;
  const examsOf = (list: readonly Decision[]): Ledger =>
    joined(
      ...list.flatMap((decision) => {
        const isOf = ({ recorded }: CoarseCell) => recorded === decision;
        const states = [...new Set(first.cells.filter(isOf).map(({ state }) => state))];
        return states.map((state) =>
          groupsLedger(
            stateName(condition, { recorded: decision, state }),
            groups,
            (cell) => isOf(cell) && cell.state === state,
            grouping,
          ),
        );
      }),
    );
  const totalsOf = (list: readonly Decision[]): Ledger =>
    joined(
      ...list.map((decision) => {
        const whole = decisionName(condition, decision);
        return sumLedger(
          whole,
          groups.map(({ group, totalOf: total }) => ({
            name: `${grouping} ${group} ${whole}`,
            count: total(decision),
          })),
        );
      }),
    );
  const shownAs = (list: readonly Decision[], withExams: boolean) =>
    withExams && add(examsOf(list)) ? "exams" : add(totalsOf(list)) ? "total" : "none";
  const referred = referredOf(protocol);
  const ofReferred = shownAs(referred, true);
  const others = decisions.filter((decision) => !referred.includes(decision));
  const ofOthers = shownAs(others, ofReferred === "exams");
  const measuresOf = ({ cells, totalOf: total }: Group): CoarseProgrammeMeasure[] => {
    const decided = (decision: Decision): Decided | null => {
      const own = cells.filter(({ recorded }) => recorded === decision);
      const known = referred.includes(decision) ? ofReferred : ofOthers;
      if (known === "none") return null;
      if (known === "total") return { total: [total(decision)], cells: null };
      return { total: own.map(({ count }) => count), cells: own };
    };
    const byDecision = {
      refer: decided("refer"),
      pass: decided("pass"),
      unable: decided("unable"),
    };
    return coarseMeasures(
      figuresOf(byDecision, condition.cells.knownStand, protocol),
      protocol.level,
    );
  };
  return groups.map((group) => ({ group: group.group, measures: measuresOf(group) }));
}

/** Figures that the journal has and the public does not, by why. */
function notShownBut(
  measures: readonly CoarseProgrammeMeasure[],
  { programme, protocol }: ProgrammePlace,
): { readonly reason: string; readonly words: readonly string[] }[] {
  const known = programme.description.overall.measures.filter(
    ({ id, estimate }) =>
      !measures.some((one) => one.id === id) &&
      (estimate.low !== undefined || estimate.high !== undefined),
  );
  const corrected: ReadonlySet<string> = new Set(correctedFigures.map(({ id }) => id));
  const isByStrata = protocol.verificationStrata !== undefined;
  const reasonOf = (id: string) =>
    id === "daysToExam"
      ? "it is the number of a single child"
      : isByStrata && corrected.has(id)
        ? strataWords
        : "beside the other figures a small count may follow from it";
  const reasons = new Map<string, string[]>();
  for (const { id, words } of programmeFigures) {
    if (!known.some((one) => one.id === id)) continue;
    const reason = reasonOf(id);
    reasons.set(reason, [...(reasons.get(reason) ?? []), words]);
  }
  return [...reasons].map(([reason, words]) => ({ reason, words }));
}

/** Why nothing is corrected where children were drawn within groups. */
export const strataWords =
  "who stands for whom goes by the groups within which children were drawn, and their counts are not for the public";
