import { dateOrders } from "../../cohort/index.js";
import { looksLikeNames } from "../../privacy/index.js";
import { firstCells, share } from "./cellForms.js";
import { type ColumnFacts, plainNumber } from "./columnFacts.js";
import { dateColumn } from "./dateColumn.js";
import { acuityNotation, ageGroups, ageUnit } from "./details.js";
import type { ColumnAnswers, DetectedColumn, Question } from "./detected.js";
import { kindsOfCells } from "./kindsOfCells.js";
import { rangeOf } from "./ranges.js";
import { type Role, roles } from "./roles.js";

/**
 * A column with its role, and the details that go with it; what is not known is asked.
 *
 * @param alone the role without anybody's word
 */
export function settled(
  facts: ColumnFacts,
  role: Role | null,
  alone: Role | null,
  given: ColumnAnswers,
  doubtful: boolean,
): DetectedColumn {
  const questions: Question[] = [];
  const is = role ?? harmless(facts);
  if (is === "unknown" && given.is == null) {
    questions.push({
      key: "is",
      ask: "what is this column",
      allowed: roles.filter((one) => one !== "unknown"),
    });
  }
  if (doubtful && given.is == null) {
    questions.push({
      key: "is",
      ask: "is this the column that says which child a row belongs to",
      allowed: ["subject", "record-number", "other"],
    });
  }
  const dated = is === "date" || is === "birth-date" || is === "other-date";
  const dates = dated ? dateColumn(facts.cells, { serials: true }) : null;
  const order = given.order ?? dates?.order ?? null;
  // a date that goes needs no order
  const needed = is === "date" || is === "birth-date";
  if (needed && order === null) {
    questions.push({
      key: "order",
      ask: `in which order day, month and year stand: ${dates?.because ?? "no cell is a date"}`,
      allowed: dates === null ? dateOrders : ["day-first", "month-first"],
    });
  }
  const century = given.century ?? null;
  if (needed && dates?.shortYears && century === null) {
    questions.push({
      key: "century",
      ask: "years have two digits; what is added to them",
      allowed: ["1900", "2000"],
    });
  }
  const unit = is === "age" ? (given.unit ?? ageUnit(facts)) : null;
  if (is === "age" && unit === null) {
    const groups = ageGroups(facts);
    const two =
      groups === null
        ? ""
        : `; "years-or-months" takes numbers up to ${groups.years} for years and from ${groups.months} on for months`;
    questions.push({
      key: "unit",
      ask: `the unit of these ages${fromTo(facts, is)}${two}`,
      allowed: [
        ...["years", "decimal-years", "months", "years-and-months"],
        ...(groups === null ? [] : ["years-or-months"]),
      ],
    });
  }
  const notation = is === "acuity" ? (given.notation ?? acuityNotation(facts)) : null;
  if (is === "acuity" && notation === null) {
    questions.push({
      key: "notation",
      ask: "how acuity is written",
      allowed: ["logMAR", "snellen-feet", "snellen-metres", "decimal"],
    });
  }
  const both = is === "prescription" && facts.twoEyes !== null;
  const eyes = given.eyes ?? (both && facts.twoEyes === "marked" ? "marked" : null);
  if (both && eyes === null) {
    questions.push({
      key: "eyes",
      ask: "two prescriptions stand in one cell, and nothing says which eye each is of; which comes first",
      allowed: ["right-left", "left-right"],
    });
  }
  return {
    column: facts.column,
    is,
    eye: both || eyes !== null || ofTheChild.has(is) ? null : (given.eye ?? facts.eye),
    eyes,
    block: given.block ?? "",
    of: given.of ?? null,
    ...{ order, century, unit, notation, questions, facts },
    because:
      given.is != null && given.is !== (alone ?? harmless(facts))
        ? "said"
        : reason(facts, is, dates?.because),
  };
}

/** Columns that are no eye's, whatever words their names hold ("vu le"). */
const ofTheChild: ReadonlySet<Role> = new Set([
  ...(["subject", "age", "age-unit", "birth-date", "date", "other-date", "day", "site"] as const),
  ...(["examiner", "name", "sex", "record-number", "row-number"] as const),
]);

/** Numbers that no analysis could read; words, and what could be a power, an age or a score, are asked. */
function harmless(facts: ColumnFacts): Role {
  if (facts.filled === 0) return "other";
  const words = firstCells(facts, 5000);
  if (kindsOfCells(facts) !== null || looksLikeNames(words)) return "unknown";
  if (facts.numbers.share >= 0.9) {
    const codes = facts.numbers.whole === 1 && facts.numbers.high >= 10_000;
    const unique = facts.cells.size > facts.filled / 2.5 && facts.numbers.whole === 1;
    // a few numbers are codes of something
    const coded = facts.numbers.whole === 1 && facts.cells.size <= 5;
    // what is said of one eye was measured
    if (facts.eye !== null || coded || couldBeRead(facts)) return "unknown";
    return codes || (unique && facts.filled > 5) ? "unknown" : "other";
  }
  // words that nothing here knows could be places or people, and yes or no could answer anything
  return "unknown";
}

/** Numbers that could be a power, an age, a pupil, a score or acuity: no name says so, and none is let go unasked. */
function couldBeRead(facts: ColumnFacts): boolean {
  const { numbers, cells } = facts;
  // codes for nothing, such as -99, may stand among them
  const within = (low: number, high: number) =>
    share(facts, (text) => plainNumber(text) >= low && plainNumber(text) <= high);
  if (numbers.whole < 1) return cells.size >= 2 && within(-90, 100) > 0.5;
  return cells.size >= 4 && within(0, 200) > 0.5;
}

function reason(facts: ColumnFacts, is: Role, dates: string | undefined): string {
  if (facts.filled === 0) return "by its name; no cell is filled";
  if (dates !== undefined) return dates;
  if (is === "unknown") return "neither name nor cells say what it is";
  if (is === "other") return "harmless; carried along as an own column";
  if (is === "prescription" && facts.twoEyes !== null)
    return "clinic notation of both eyes in its cells";
  if (is === "prescription") return "clinic notation in its cells";
  const number = facts.numbers.share > 0.9;
  return number ? `by its name, and numbers${fromTo(facts, is)}` : `by its name and its cells`;
}

/** From where to where numbers go; not said where one could be an id, the least and the greatest of which are ids. */
function fromTo({ numbers: { low, high } }: ColumnFacts, is: Role): string {
  const range = rangeOf(is);
  const within = range !== undefined && low >= range[0] && high <= range[1];
  return within ? ` from ${low} to ${high}` : "";
}
