import { sortedCells } from "../../accuracy/index.js";
import { type Cohort, eyeOutcomes } from "../../cohort/index.js";
import type { Protocol } from "../../protocol/index.js";
import { columnsOf, type VerificationRows } from "./verificationOf.js";

/** Children with the same end: of one 2x2 table, by what the programme decided of them. */
export interface ConditionCell {
  /** Null where everybody was examined. */
  readonly recorded: "refer" | "pass" | "unable" | null;
  readonly studied: "refer" | "pass";
  /** "known" ones are examined, but stand for nobody else. */
  readonly state: "with" | "without" | "unexamined" | "known-with" | "known-without";
  /** How many eyes of a child are in this cell: 1 where a child is one row. */
  readonly eyes: 1 | 2;
  readonly children: number;
}

/** Children in no row of a condition, by how far they came. */
export interface ApartCells {
  /** Not eligible, or without a reading or an attempt. */
  readonly before: number;
  /** Screened, and no exam that counts; 0 where the unexamined are rows. */
  readonly unexamined: number;
  /** Screened and examined, but without a decision for the child. */
  readonly undecided: number;
}

/** Every child in exactly one cell of each condition; cells of no children stand here as well. */
export interface ConditionCells {
  readonly apart: ApartCells;
  readonly cells: readonly ConditionCell[];
  /** Children with at least one eye in a cell. */
  readonly children: number;
  /** Passes who came by themselves stand for themselves alone. */
  readonly knownStand: boolean;
}

/** The cells that a protocol can have, whether or not a child is in them. */
function places(
  protocol: Protocol,
  source: VerificationRows["programme"]["source"],
): Omit<ConditionCell, "children">[] {
  const eyes =
    protocol.unit === "eye" && protocol.eye === "both" ? ([1, 2] as const) : ([1] as const);
  const sides = ["refer", "pass"] as const;
  const of = (
    recorded: ConditionCell["recorded"],
    studied: readonly ConditionCell["studied"][],
    states: readonly ConditionCell["state"][],
  ) =>
    studied.flatMap((side) =>
      states.flatMap((state) =>
        eyes.map((count) => ({ recorded, studied: side, state, eyes: count })),
      ),
    );
  if (protocol.verification === "complete") return of(null, sides, ["with", "without"]);
  const all = ["with", "without", "unexamined"] as const;
  const known = [...all, "known-with", "known-without"] as const;
  const { undecidable } = protocol;
  const unable = undecidable === "exclude" ? [] : [undecidable];
  return source === "studied"
    ? [...of("refer", ["refer"], all), ...of("pass", ["pass"], known), ...of("unable", unable, all)]
    : [...of("refer", sides, all), ...of("pass", sides, known), ...of("unable", sides, all)];
}

/** Counts the children of a condition's rows, cell by cell. */
export function conditionCells(
  cohort: Cohort,
  protocol: Protocol,
  rows: VerificationRows,
  grouping: {
    readonly groupOf: (child: number) => string;
    readonly names: readonly string[];
  } | null = null,
): { readonly whole: ConditionCells; readonly groups: ReadonlyMap<string, ConditionCell[]> } {
  const cellsOfChild = rowCells(protocol, rows);
  const list = places(protocol, rows.programme.source);
  const keyOf = ({ recorded, studied, state, eyes }: Omit<ConditionCell, "children">) =>
    `${recorded} ${studied} ${state} ${eyes}`;
  const counts = new Map<string, number>();
  const byGroup = new Map<string, Map<string, number>>(
    grouping?.names.map((name) => [name, new Map()]),
  );
  for (const [child, cells] of cellsOfChild) {
    const group = grouping?.groupOf(child);
    for (const [key, eyes] of cells) {
      const name = `${key} ${eyes}`;
      counts.set(name, (counts.get(name) ?? 0) + 1);
      if (group === undefined) continue;
      const own = byGroup.get(group) ?? new Map<string, number>();
      own.set(name, (own.get(name) ?? 0) + 1);
      byGroup.set(group, own);
    }
  }
  const filled = (of: ReadonlyMap<string, number>): ConditionCell[] =>
    list.map((place) => ({ ...place, children: of.get(keyOf(place)) ?? 0 }));
  return {
    whole: {
      apart: apartFrom(cohort, cellsOfChild, examinedIn(rows)),
      cells: filled(counts),
      children: cellsOfChild.size,
      knownStand: knownStand(protocol, rows),
    },
    groups: new Map([...byGroup].map(([group, of]) => [group, filled(of)])),
  };
}

/** Of each child in a row: its cells, each with the number of its eyes there. */
function rowCells(protocol: Protocol, rows: VerificationRows): Map<number, Map<string, number>> {
  const complete = protocol.verification === "complete";
  const sorted = complete
    ? null
    : sortedCells("runStudy", columnsOf(rows, protocol.unit), {
        undecidable: protocol.undecidable,
      });
  const found = new Map<number, Map<string, number>>();
  rows.test.forEach((test, row) => {
    const studied = test === "undecidable" ? protocol.undecidable : test ? "refer" : "pass";
    const condition = rows.reference[row];
    if (studied === "exclude" || (complete && condition === null)) return;
    const word = condition === null ? "unexamined" : condition ? "with" : "without";
    // those who stand for themselves alone, or for nobody: passes who were not drawn
    const isKnown =
      sorted !== null &&
      condition !== null &&
      (sorted.stands[row] === 0 || sorted.sorted.cells[sorted.cellOf[row]].own);
    const recorded = complete ? null : isKnown ? "pass" : rows.recorded[row];
    const key = `${recorded} ${studied} ${isKnown ? "known-" : ""}${word}`;
    const child = rows.subjects[row];
    const cells = found.get(child) ?? new Map<string, number>();
    cells.set(key, (cells.get(key) ?? 0) + 1);
    found.set(child, cells);
  });
  return found;
}

function knownStand(protocol: Protocol, rows: VerificationRows): boolean {
  if (protocol.verification === "complete") return false;
  const { sorted } = sortedCells("runStudy", columnsOf(rows, protocol.unit), {
    undecidable: protocol.undecidable,
  });
  return sorted.cells.some(({ own }) => own);
}

/** The children with a row whose condition an exam says, whether or not the reading decides it. */
function examinedIn({ subjects, reference }: VerificationRows): ReadonlySet<number> {
  const found = new Set<number>();
  reference.forEach((condition, row) => {
    if (condition !== null) found.add(subjects[row]!);
  });
  return found;
}

/** The children in no row: examined, or else by the eye that came furthest. */
function apartFrom(
  { children }: Cohort,
  inRows: ReadonlyMap<number, unknown>,
  examinedRows: ReadonlySet<number>,
): ApartCells {
  const { outcome } = children;
  const apart = { before: 0, unexamined: 0, undecided: 0 };
  const screened = eyeOutcomes.indexOf("not-attempted");
  const examined = eyeOutcomes.indexOf("finding-unusable");
  for (let child = 0; child < children.n; child++) {
    if (inRows.has(child)) continue;
    const codes = [outcome?.right[child] ?? 255, outcome?.left[child] ?? 255];
    const furthest = Math.max(...codes.map((code) => (code < eyeOutcomes.length ? code : -1)));
    if (examinedRows.has(child)) apart.undecided++;
    else if (furthest < screened) apart.before++;
    else apart[furthest < examined ? "unexamined" : "undecided"]++;
  }
  return apart;
}
