import { type CoarseCount, coarsen, type SmallCounts, totalOf } from "../../disclosure/index.js";
import type { CoarseFigures, CoarseShare } from "../../programme/index.js";
import type { Protocol } from "../../protocol/index.js";
import { sum } from "../../rows/index.js";
import type { ConditionCell } from "../run/studyCells.js";
import { type CoarseCell, tableCellOf } from "./coarseCondition.js";
import { sideOf } from "./coarseGroups.js";
import { differenceOf, impliedCount, isSafe, joined, noLedger, sumLedger } from "./ledger.js";
import { cellName, decisionName, type Placed, stateName } from "./ledgers.js";
import { type Decision, decisions, type ProgrammePlace, referredOf } from "./programmeCells.js";

/** Figures of parts of the cells, each added where every small part keeps its range. */
export function partShares(place: ProgrammePlace): CoarseFigures["shares"] {
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

/** Cells by their names. */
const namesOf = ({ condition, cells }: Placed, keep: (cell: CoarseCell) => boolean) =>
  cells.flatMap((cell, at) => (keep(cell) ? [cellName(condition, at)] : []));

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
  return {
    counted: first.cells.map(({ count }) => count),
    rest: [notScreened],
    screened: "counted",
  };
}

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
  beside,
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
    return {
      counted: of(cells, isOne),
      rest: of(cells, (cell) => !isOne(cell)),
      screened: "of",
    };
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
  for (const { decision, exact, rest } of parts) {
    const whole = decisionName(condition, decision);
    const studied = namesOf(first, (cell) => isAgainst(cell, decision, protocol));
    if (studied.length === 0) continue;
    const other = { exact: exactAgainst(decision), names: studied };
    beside(differenceOf({ exact, names: [`${whole} against the rule`] }, other, rule));
    beside(differenceOf({ exact: rest, names: [`${whole} by the rule`] }, other, rule));
  }
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
function triesOf({ first, programme, rule, add, beside }: ProgrammePlace): CoarseFigures["shares"] {
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
    others: readonly (Counted & Named)[],
  ): CoarseShare | null => {
    if (one === null || !others.every((other) => isSafeBetween(one, other, rule))) return null;
    const { name, exact, count, rest } = one;
    const ledger = sumLedger(rows, [
      { name, count },
      { name: `not ${name}`, count: rest },
    ]);
    if (!add(ledger)) return null;
    for (const other of others) beside(differenceOf({ exact, names: [name] }, other, rule));
    return { counted: [count], rest: [rest] };
  };
  const unread = {
    exact: unable,
    names: namesOf(first, ({ recorded }) => recorded === "unable"),
    count: totalOf(of(first.cells, ({ recorded }) => recorded === "unable")),
  };
  const atFirst = firstKnown === screened ? part("unable at first", unableAtFirst) : null;
  const unableShown = shownPart(atFirst, [unread]);
  const again = shownPart(part("tried again", rescreened), [
    unread,
    ...(unableShown === null ? [] : [{ ...atFirst!, names: [atFirst!.name] }]),
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
  beside,
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
    const whole = decisionName(first.condition, decision);
    const days = [`${whole} in time`, `${whole} later`];
    const known = { exact: daysKnown, count: totalOf([within, later]), names: days };
    const noAnswer = coarsen(Math.max(0, came - examined), rule);
    const unanswered = `${whole} came without an answer`;
    const names = namesOf(
      first,
      (cell) => cell.recorded === decision && tableCellOf(cell) !== null,
    );
    const others = [
      { exact: examined, count: totalOf(seen), names },
      { exact: came, count: totalOf([...seen, noAnswer]), names: [...names, unanswered] },
    ];
    if (!others.every((other) => isSafeBetween(known, other, rule))) return null;
    const { low, high } = noAnswer;
    const differences = joined(
      { ...noLedger, known: [{ name: unanswered, low, high }] },
      ...others.map((other) => differenceOf(known, other, rule)),
    );
    const ledger = sumLedger(whole, [
      { name: `${whole} in time`, count: within },
      { name: `${whole} later`, count: later },
      { name: `${whole} no day`, count: coarsen(referred - daysKnown, rule) },
    ]);
    return { within, later, ledger, differences };
  });
  const known = split.filter((one) => one !== null);
  if (known.length < split.length || !add(joined(...known.map(({ ledger }) => ledger)))) return {};
  for (const { differences } of known) beside(differences);
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

/** The names of the counts that a count is the sum of. */
interface Named {
  readonly names: readonly string[];
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
