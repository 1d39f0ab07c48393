import type { UndecidablePolicy } from "../rows/index.js";
import { type ProgrammeColumns, requireProgrammeColumns } from "./programmeColumns.js";

/** Children at each step of a programme. Null: no file records it. */
export interface StepCounts {
  readonly eligible: number;
  readonly screened: number;
  /** Tried more than once. */
  readonly rescreened: number | null;
  /** Screened children of whom the first attempt is known; without a result in both eyes then. */
  readonly firstKnown: number | null;
  readonly unableAtFirst: number | null;
  /** The decision in the end. */
  readonly unable: number;
  readonly passed: number;
  /** With the unable where these count as referred. */
  readonly referred: number;
  readonly invited: number;
  readonly invitedReferred: number;
  /** Of the invited and referred. */
  readonly came: number;
  readonly invitedPasses: number;
  readonly passesCame: number;
  /** Came without being asked. */
  readonly cameUnasked: number;
  /** Exams that say whether the condition is there, of the referred and of all others. */
  readonly examined: number;
  readonly found: number;
  /** Of the examined and referred: not asked, or not recorded to have come. */
  readonly examinedUnasked: number;
  readonly examinedOthers: number;
  readonly foundOthers: number;
  /** Examined children who came after a referral, with both days known; of these within the time stated. */
  readonly daysKnown: number | null;
  readonly withinDays: number | null;
  /** Decisions set against the declared rule, and those that differ from it. */
  readonly compared: number | null;
  readonly departures: number | null;
  /** Referred where the rule passes, and passed where it refers. */
  readonly referredAgainst: number | null;
  readonly passedAgainst: number | null;
}

/** Options that say how children are counted. */
export interface CountingOptions {
  /** How a child without a complete reading counts; "refer" by default. */
  readonly undecidable?: UndecidablePolicy;
  /** Days within which an exam was promised. */
  readonly withinDays?: number;
}

/** Whether a decision counts as a referral. */
export const isReferral = (decision: string, undecidable: UndecidablePolicy): boolean =>
  decision === "refer" || (decision === "unable" && undecidable === "refer");

/** Counts by what the programme decided; the unable count as referred. */
export type CountsByDecision = { readonly [decision in "refer" | "pass" | "unable"]: StepCounts };

/**
 * The counts of the children whom the programme referred, passed and was unable to read, each by itself.
 *
 * @param options `withinDays`: the time promised for an exam
 * @throws InputError when columns differ in length, or a word is unknown
 */
export function countsByDecision(
  columns: ProgrammeColumns,
  { withinDays }: Pick<CountingOptions, "withinDays"> = {},
): CountsByDecision {
  const n = requireProgrammeColumns("countsByDecision", columns);
  const rows = Array.from({ length: n }, (_, row) => row);
  const of = (decision: string) =>
    stepCounts(
      columns,
      rows.filter((row) => columns.decision[row] === decision),
      { undecidable: "refer", withinDays },
    );
  return { refer: of("refer"), pass: of("pass"), unable: of("unable") };
}

/** Counts the children of some rows. */
export function stepCounts(
  columns: ProgrammeColumns,
  rows: readonly number[],
  { undecidable = "refer", withinDays }: CountingOptions,
): StepCounts {
  const { decision, condition, attempts, readAtFirst, daysToExam, declared } = columns;
  const screened = rows.filter((row) => decision[row] !== "not-screened");
  const count = (passes: (row: number) => boolean) => screened.filter(passes).length;
  const referred = (row: number) => isReferral(decision[row], undecidable);
  const invited = (row: number) => isInvited(columns, row, referred(row));
  const came = (row: number) => columns.came?.[row] ?? columns.reason[row] !== "not-examined";
  const known = (row: number) => condition[row] !== null;
  const compared = (row: number) => (declared?.[row] ?? null) !== null;
  const differs = (row: number) => compared(row) && declared?.[row] !== decision[row];
  const days = daysAfterReferral(columns, rows, undecidable);
  const isInTime = (row: number) => daysToExam![row] <= withinDays!;
  const firstKnown = (row: number) => (readAtFirst?.[row] ?? null) !== null;
  return {
    eligible: rows.length,
    screened: screened.length,
    rescreened: attempts === undefined ? null : count((row) => attempts[row] > 1),
    firstKnown: readAtFirst === undefined ? null : count(firstKnown),
    unableAtFirst: readAtFirst === undefined ? null : count((row) => readAtFirst[row] === false),
    unable: count((row) => decision[row] === "unable"),
    passed: count((row) => decision[row] === "pass"),
    referred: count(referred),
    invited: count(invited),
    invitedReferred: count((row) => invited(row) && referred(row)),
    came: count((row) => invited(row) && referred(row) && came(row)),
    invitedPasses: count((row) => invited(row) && decision[row] === "pass"),
    passesCame: count((row) => invited(row) && decision[row] === "pass" && came(row)),
    cameUnasked: count((row) => !invited(row) && came(row)),
    examined: count((row) => referred(row) && known(row)),
    found: count((row) => referred(row) && condition[row] === true),
    examinedUnasked: count((row) => referred(row) && known(row) && !(invited(row) && came(row))),
    examinedOthers: count((row) => !referred(row) && known(row)),
    foundOthers: count((row) => !referred(row) && condition[row] === true),
    daysKnown: daysToExam === undefined ? null : days.length,
    withinDays:
      daysToExam === undefined || withinDays === undefined ? null : days.filter(isInTime).length,
    compared: declared === undefined ? null : count(compared),
    departures: declared === undefined ? null : count(differs),
    referredAgainst:
      declared === undefined ? null : count((row) => differs(row) && decision[row] === "refer"),
    passedAgainst:
      declared === undefined ? null : count((row) => differs(row) && decision[row] === "pass"),
  };
}

/** The referred who came and whose days from screening to exam are known, in ascending order of days. */
export function daysAfterReferral(
  { decision, daysToExam, reason }: ProgrammeColumns,
  rows: readonly number[],
  undecidable: UndecidablePolicy,
): number[] {
  if (daysToExam === undefined) return [];
  return rows
    .filter((row) => isReferral(decision[row], undecidable) && reason[row] !== "self-presented")
    .filter((row) => !Number.isNaN(daysToExam[row]))
    .sort((one, other) => daysToExam[one] - daysToExam[other]);
}

/** By the record; where there is none, the referred were asked, and of the others those drawn. */
function isInvited(columns: ProgrammeColumns, row: number, referred: boolean): boolean {
  return columns.invited?.[row] ?? (referred || columns.reason[row] === "sampled");
}
