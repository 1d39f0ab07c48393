import type { CoarseCount } from "../../disclosure/index.js";
import {
  type CoarseProgrammeMeasure,
  coarseMeasures,
  correctedFigures,
  programmeFigures,
} from "../../programme/index.js";
import { sum } from "../../rows/index.js";
import type { ConditionCell } from "../run/studyCells.js";
import type { ConditionProgramme } from "../run/studyResult.js";
import type { CoarseCell } from "./coarseCondition.js";
import { type Group, groupsLedger, sideOf } from "./coarseGroups.js";
import { joined, type Ledger, sumLedger } from "./ledger.js";
import { decisionName, stateName } from "./ledgers.js";
import {
  type Decided,
  type Decision,
  decisions,
  figuresOf,
  type ProgrammePlace,
  referredOf,
} from "./programmeCells.js";
import { partShares } from "./programmeParts.js";

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

/**
 * A programme in figures for the public: from the cells of the first condition, so that no count beside them
 * says more, and from parts of these cells where each part keeps its range.
 *
 * @returns the figures once it is known what is shown of all who were screened
 */
export function coarseProgramme(place: ProgrammePlace): (screened: CoarseCount) => CoarseProgramme {
  const { first, programme, groupings, flow, protocol } = place;
  const { cells, knownStand } = {
    cells: first.cells,
    knownStand: first.condition.cells.knownStand,
  };
  const withheld = (reason: string) => (): CoarseProgramme => ({ kind: "withheld", reason });
  if (protocol.verification === "complete") {
    return withheld(
      "everybody was to be examined: the tables of accuracy say what was found, and what the programme decided beside them would narrow small counts",
    );
  }
  if (cells.some(({ eyes }) => eyes === 2)) {
    return withheld("the rows are eyes, and children beside them would say too much");
  }
  if (flow === null) return withheld("children beside the tables here would say too much");
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
  const own = groupings.map(({ by, groups }, at) => ({
    by,
    groups: groupFigures(place, groups, at),
  }));
  return (screened) => {
    const figures = { ...whole, shares: { ...whole.shares, ...parts } };
    const measures = coarseMeasures(figures, protocol, screened);
    return {
      kind: "coarse-programme",
      title: programme.title,
      source: programme.source,
      measures,
      groupings: own,
      notShown: notShownBut(measures, place),
    };
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
    return coarseMeasures(figuresOf(byDecision, condition.cells.knownStand, protocol), protocol);
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
