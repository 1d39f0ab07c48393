import type { StudyResult } from "../../../src/study/index.js";
import type { ConditionCell } from "../../../src/study/run/studyCells.js";
import { alike, meant, rateIn } from "./printed.js";
import type { Puzzle } from "./solver.js";
import type { MarkdownTable } from "./writtenTexts.js";

const decisions = ["refer", "pass", "unable"] as const;
type Decision = (typeof decisions)[number];

/**
 * The programme's figures: who knows the range of every count behind a printed figure, and whom it counts.
 * Figures that are not printed say nothing.
 */
export function programmePuzzle(
  { protocol, conditions, programme }: StudyResult,
  tables: readonly MarkdownTable[],
  puzzle: Puzzle,
  count: (name: string, exact: number, range?: readonly [number, number]) => void,
): void {
  const own = tables.filter(({ title }) => title.startsWith("The programme in figures"));
  const [whole, ...groupTables] = own;
  const described = programme?.[0];
  if (whole === undefined || described === undefined) return;
  const { id, cells, subgroups } = conditions[0]!;
  const { byDecision, description } = described;
  const exact = description.overall.counts;
  const isShown = (start: string, table = whole) => rowOf(start, table) !== undefined;
  const childrenOf = (list: readonly ConditionCell[]) =>
    list.reduce((all, { children }) => all + children, 0);
  const makeUp = (name: string, parts: readonly string[]) =>
    puzzle.makeUp(name, parts, `programme ${name}`);

  const statesOf = (decision: Decision) => [
    ...new Set(cells.cells.filter((one) => one.recorded === decision).map(({ state }) => state)),
  ];
  for (const decision of decisions) {
    for (const state of statesOf(decision)) {
      const list = cells.cells.flatMap((cell, at) =>
        cell.recorded === decision && cell.state === state
          ? [{ cell, name: `${id} cell ${at}` }]
          : [],
      );
      puzzle.count(`${decision} ${state}`, [0, 1e6], childrenOf(list.map(({ cell }) => cell)));
      makeUp(
        `${decision} ${state}`,
        list.map(({ name }) => name),
      );
    }
    const mine = cells.cells.filter(({ recorded }) => recorded === decision);
    puzzle.count(decision, [0, 1e6], childrenOf(mine));
    makeUp(
      decision,
      statesOf(decision).map((state) => `${decision} ${state}`),
    );
  }
  const isUnableReferred = protocol.undecidable === "refer";
  const referred: Decision[] = isUnableReferred ? ["refer", "unable"] : ["refer"];
  const withStates = (...states: readonly string[]) =>
    referred.flatMap((decision) =>
      statesOf(decision)
        .filter((state) => states.includes(state))
        .map((state) => [`${decision} ${state}`, 1] as const),
    );
  const all = decisions.map((decision) => [decision, 1] as const);
  for (const [label, part, of] of [
    ["Unable in the end", [["unable", 1] as const], all],
    ["Referred", referred.map((one) => [one, 1] as const), all],
    [
      "With an exam that decides",
      withStates("with", "without"),
      referred.map((one) => [one, 1] as const),
    ],
    ["Cases found", withStates("with"), all],
    ["With the condition, of the referred", withStates("with"), withStates("with", "without")],
  ] as const) {
    const row = rowOf(label, whole);
    if (row === undefined) continue;
    puzzle.between(part, meant(row[1]), `${label}, children`);
    puzzle.between(of, meant(row[2]), `${label}, of`);
    const rate = rateIn(row[3]);
    if (rate !== null) puzzle.share(part, of, rate, row[3]!.includes("%") ? 100 : 1000, label);
  }

  if (isShown("Screened, of the eligible")) {
    count("not screened", exact.eligible - exact.screened);
    count(
      "not eligible",
      puzzle.truth.get("before")! - (exact.eligible - exact.screened),
      [0, 1e6],
    );
    makeUp("before", ["not screened", "not eligible"]);
  }
  const split = (of: string, parts: { readonly [part: string]: number }) => {
    for (const [part, children] of Object.entries(parts)) count(`${of}: ${part}`, children);
    makeUp(
      of,
      Object.keys(parts).map((part) => `${of}: ${part}`),
    );
  };
  for (const decision of referred) {
    const of = byDecision[decision];
    if (isShown("Came, of those asked after")) {
      split(`${decision} unexamined`, {
        "did not come": of.invitedReferred - of.came,
        "no answer": Math.max(0, of.came - of.examined),
        ...(described.isAskedRecorded ? { "not asked": of.referred - of.invitedReferred } : {}),
      });
    }
    if (isShown("Examined within") && of.daysKnown !== null && of.withinDays !== null) {
      split(decision, {
        "in time": of.withinDays,
        later: of.daysKnown - of.withinDays,
        "no day": of.referred - of.daysKnown,
      });
    }
  }
  const declared = JSON.stringify(protocol.programme?.referWhen);
  const isStudied = JSON.stringify(protocol.conditions[0]!.referWhen) === declared;
  if (isShown("Decisions that depart") && !isStudied) {
    for (const decision of decisions) {
      const { departures, screened } = byDecision[decision];
      split(decision, {
        against: departures ?? 0,
        "by the rule": screened - (departures ?? 0),
      });
    }
  }
  if (isShown("Screened again")) {
    split(`${id} rows`, { again: exact.rescreened!, once: exact.screened - exact.rescreened! });
  }
  if (isShown("Unable at the first")) {
    split(`${id} rows`, {
      "unable first": exact.unableAtFirst!,
      "read first": exact.screened - exact.unableAtFirst!,
    });
  }

  for (const [grouping, table] of groupTables.entries()) {
    const groups = [
      ...new Set(table.rows.filter(([name]) => !name!.startsWith("**")).map(([name]) => name!)),
    ];
    const membersOf = (name: string) =>
      subgroups[grouping]!.cells.filter(({ group }) =>
        name === "all other sites" ? !groups.includes(group) : group === name,
      ).flatMap((one) => one.cells);
    const add = (of: string, keep: (cell: ConditionCell) => boolean) => {
      for (const name of groups) {
        count(`${grouping} ${name} ${of}`, childrenOf(membersOf(name).filter(keep)));
      }
      makeUp(
        of,
        groups.map((name) => `${grouping} ${name} ${of}`),
      );
    };
    // the ends of what is printed of a group are those of its parts: one number, or exams by how they ended
    const printed = (name: string, decision: Decision) => {
      const of = (label: string) => table.rows[indexUnder(label, name, table)]!;
      const [unable, sent] = [of("**Unable"), of("**Referred")];
      const [none, all] = [meant(unable[1]), meant(sent[2])];
      const gone = meant(sent[1]);
      const end = (at: 0 | 1) => {
        if (decision === "unable") return none[at];
        if (decision === "refer") return gone[at] - (isUnableReferred ? none[at] : 0);
        return all[at] - gone[at] - (isUnableReferred ? 0 : none[at]);
      };
      return [end(0), end(1)] as const;
    };
    for (const decision of decisions) {
      if (!isShown("**Referred", table)) continue;
      // a decision that the policy leaves out has no children, as everybody knows
      if (statesOf(decision).length === 0) continue;
      const keep = (cell: ConditionCell) => cell.recorded === decision;
      const isOneNumber = groups.every((name) => {
        const [low, high] = alike(childrenOf(membersOf(name).filter(keep)));
        const [from, to] = printed(name, decision);
        return low === from && high === to;
      });
      if (isOneNumber) add(decision, keep);
      else {
        for (const state of statesOf(decision)) {
          add(`${decision} ${state}`, (cell) => keep(cell) && cell.state === state);
        }
      }
    }
  }
}

/** The row of a group under a heading. */
function indexUnder(heading: string, group: string, { rows }: MarkdownTable): number {
  const from = rows.findIndex(([label]) => label!.startsWith(heading));
  return rows.findIndex(([label], at) => at > from && label === group);
}

const rowOf = (start: string, { rows }: MarkdownTable) =>
  rows.find(([label]) => label!.startsWith(start));
