import type { Cohort } from "../../cohort/index.js";
import { isLimit, type Protocol, ruleOf } from "../../protocol/index.js";
import { InputError } from "../../results/index.js";
import type { Referred } from "../../rows/index.js";
import { applyRule } from "../../rules/index.js";
import type { ConditionRows } from "./conditionRows.js";
import { limitReader } from "./limitReader.js";
import { screenedCohort } from "./screenedCohort.js";
import { whoseRows } from "./whoseRows.js";

export type RecordedDecision = "refer" | "pass" | "unable";

/** Where the decision that led to an exam is known from. */
export interface ProgrammeSource {
  /**
   * A column; the programme's rule in the protocol; or, where neither is there, the referral under
   * study itself, taken to be what the programme did.
   */
  readonly source: "recorded" | "computed" | "studied";
  /** Screened children without a decision in the column, taken from the rule or the referral. */
  readonly filled: number;
}

/** What the programme decided of each child; null where only the referral under study can say. */
export interface Programme extends ProgrammeSource {
  readonly decisionOf: (child: number) => RecordedDecision | null;
  /** What the declared rule says beside a recorded decision; null without either. */
  readonly declaredOf: ((child: number) => RecordedDecision | null) | null;
}

/** The decisions of the programme: as recorded, else by the rule that the protocol declares. */
export function programmeOf(cohort: Cohort, protocol: Protocol): Programme {
  const column = cohort.children.programmeDecision ?? null;
  const rule = byProgrammeRule(cohort, protocol);
  const recorded = (child: number): RecordedDecision | null => {
    const word = column === null ? "unknown" : column.labels[column.codes[child]];
    return word === "unknown" ? null : word;
  };
  const isRecorded = column?.codes.some((code) => column.labels[code] !== "unknown") ?? false;
  if (!isRecorded) {
    return rule === null
      ? { source: "studied", filled: 0, decisionOf: () => null, declaredOf: null }
      : { source: "computed", filled: 0, decisionOf: rule, declaredOf: null };
  }
  const { positions } = screenedCohort(cohort);
  return {
    source: "recorded",
    filled: positions.filter((child) => recorded(child) === null).length,
    decisionOf: (child) => recorded(child) ?? rule?.(child) ?? null,
    declaredOf: rule && ((child) => (recorded(child) === null ? null : rule(child))),
  };
}

/** The programme's own rule on the readings, by child; null where the protocol declares none. */
function byProgrammeRule(
  cohort: Cohort,
  protocol: Protocol,
): ((child: number) => RecordedDecision | null) | null {
  const referWhen = protocol.programme?.referWhen;
  if (referWhen === undefined) return null;
  if (isLimit(referWhen)) {
    const reader = limitReader(cohort, { ...protocol, unit: "child", eye: "worse" }, referWhen);
    return (child) => {
      const seen = reader.testOfChild(child);
      return seen === null ? null : asDecision(seen.test);
    };
  }
  const { cohort: screened, positions } = screenedCohort(cohort);
  const { codes, labels } = applyRule(ruleOf(referWhen, "reading")!, screened).decision;
  const placeOf = new Map(Array.from(positions, (child, place) => [child, place]));
  return (child) => {
    const place = placeOf.get(child);
    if (place === undefined) return null;
    const word = labels[codes[place]];
    return word === "undecidable" ? "unable" : word === "refer" ? "refer" : "pass";
  };
}

/** What a referral's answer would be as a decision of a programme. */
export function asDecision(test: Referred): RecordedDecision {
  return test === "undecidable" ? "unable" : test ? "refer" : "pass";
}

/** Rows with all that says who stands for whom. */
export interface ProgrammeRows
  extends Pick<ConditionRows, "test" | "reference" | "reason" | "subjects"> {
  readonly recorded: readonly RecordedDecision[];
  readonly selfPresented: readonly (boolean | null)[];
  /** The group within which each child was drawn for the exam; "" where there are none. */
  readonly groups: readonly string[];
  /** Planned share drawn of those who passed; null where the protocol states none. */
  readonly shares: readonly number[] | null;
  /** The site of each child where the protocol's intervals go by site; else null. */
  readonly sites: readonly string[] | null;
}

/**
 * Adds to each row what the programme decided and how the child came to its exam. A pass who was
 * examined for no stated reason counts as drawn where the protocol says that passes were drawn.
 */
export function programmeRows<Rows extends ConditionRows>(
  rows: Rows,
  cohort: Cohort,
  protocol: Protocol,
  programme: Programme,
  groupOf: ((child: number) => string) | null,
): Rows & ProgrammeRows {
  const drawn = protocol.programme?.passesDrawn;
  const column = cohort.children.selfPresented ?? null;
  const selfPresented = rows.subjects.map((child) => {
    const word = column === null ? "unknown" : column.labels[column.codes[child]];
    return word === "unknown" ? null : word === "yes";
  });
  const recorded = rows.test.map(
    (test, row) => programme.decisionOf(rows.subjects[row]) ?? asDecision(test),
  );
  const groups = rows.subjects.map((child) => groupOf?.(child) ?? "");
  return {
    ...rows,
    recorded,
    selfPresented,
    groups,
    sites: (whoseRows(cohort, protocol, rows.subjects).clusters?.site as string[]) ?? null,
    shares:
      drawn === undefined
        ? null
        : groups.map((group) => (typeof drawn === "number" ? drawn : shareOf(drawn, group))),
    reason: rows.reason.map((why, row) =>
      why === "unknown" &&
      drawn !== undefined &&
      recorded[row] === "pass" &&
      selfPresented[row] !== true
        ? "sampled"
        : why,
    ),
  };
}

function shareOf(shares: { readonly [group: string]: number }, group: string): number {
  const share = shares[group];
  if (share === undefined) {
    throw new InputError(
      `runStudy requires passesDrawn for each group of verificationStrata, got none for "${group}"; groups named: ${Object.keys(shares).join(", ")}`,
    );
  }
  return share;
}
