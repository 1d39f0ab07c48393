import { quantityColumns } from "../cohort/eyeQuantity.js";
import { type Cohort, type Eye, eyeOutcomes, type VerificationReason } from "../cohort/index.js";
import type { Protocol, ProtocolCondition } from "../protocol/index.js";
import { meets } from "./limit.js";

/** What a reading says of one limit. */
export type Decision = boolean | "undecidable";

/** One row an eye, or a child, that was screened; nobody is left out. */
export interface ConditionRows {
  /** Beyond the referral limit, within it, or not to be decided. */
  readonly test: readonly Decision[];
  /** With the condition at the exam; null where that is not known. */
  readonly reference: readonly (boolean | null)[];
  readonly reason: readonly (VerificationReason | "not-examined")[];
  /** Position of the child in `cohort.children`. */
  readonly subjects: readonly number[];
}

/**
 * Every screened eye, or child, against one condition, three-valued: a reading beyond the end of the
 * instrument's range that the limit looks at is beyond the limit; unreadable, not attempted and of
 * low confidence are undecidable. For the worse eye, one eye beyond the limit decides, and a child
 * is within it only when both eyes are.
 */
export function conditionRows(
  cohort: Cohort,
  protocol: Protocol,
  condition: ProtocolCondition,
): ConditionRows {
  const sides: readonly Eye[] =
    protocol.eye === "right" || protocol.eye === "left" ? [protocol.eye] : ["right", "left"];
  const rows: {
    test: Decision[];
    reference: (boolean | null)[];
    reason: ConditionRows["reason"][number][];
    subjects: number[];
  } = { test: [], reference: [], reason: [], subjects: [] };
  const { children } = cohort;
  const columns = quantityColumns(
    cohort,
    condition.target.quantity,
    protocol.referenceStandard.equivalent,
  );
  for (let child = 0; child < children.n; child++) {
    const seen = sides.flatMap((side) => eyeOf(cohort, columns, condition, child, side) ?? []);
    const kept = protocol.eye === "worse" && seen.length > 0 ? [worseOf(seen, sides.length)] : seen;
    for (const { test, reference } of kept) {
      rows.test.push(test);
      rows.reference.push(reference);
      const { codes, labels } = children.verificationReason;
      rows.reason.push(reference === null ? "not-examined" : labels[codes[child]]);
      rows.subjects.push(child);
    }
  }
  return rows;
}

interface SeenEye {
  readonly test: Decision;
  readonly reference: boolean | null;
}

/** Null for an eye that was not screened: unknown, not eligible, or without any attempt. */
function eyeOf(
  cohort: Cohort,
  columns: { readonly test: Float64Array; readonly reference: Float64Array },
  { target, referWhen }: ProtocolCondition,
  child: number,
  side: Eye,
): SeenEye | null {
  const { children, findings } = cohort;
  const outcome = eyeOutcomes[children.outcome?.[side][child] ?? 255];
  if (outcome === undefined || notScreened.has(outcome)) return null;
  const finding = children.findingRow[side][child];
  const found =
    finding < 0 || findings.status.codes[finding] !== 0 ? Number.NaN : columns.reference[finding];
  const reference = Number.isNaN(found) ? null : meets(found, target);
  const worseIsHigh = referWhen.relation.startsWith(">");
  if (outcome === "over-range" || outcome === "under-range") {
    const beyond =
      referWhen.quantity === "M" ? (outcome === "over-range") === worseIsHigh : "undecidable";
    return { test: beyond, reference };
  }
  if (unread.has(outcome)) return { test: "undecidable", reference };
  const value = columns.test[children.readingRow[side][child]];
  return { test: Number.isNaN(value) ? "undecidable" : meets(value, referWhen), reference };
}

const notScreened: ReadonlySet<string> = new Set(["not-eligible", "age-unclear", "no-reading"]);
const unread: ReadonlySet<string> = new Set([
  "not-attempted",
  "unreadable",
  "low-confidence",
  "reading-incomplete",
]);

/** Any-of over the eyes; an eye that is not there counts as undecidable and unknown. */
function worseOf(seen: readonly SeenEye[], eyes: number): SeenEye {
  const short = seen.length < eyes;
  const tests = seen.map(({ test }) => test);
  const references = seen.map(({ reference }) => reference);
  return {
    test: tests.includes(true)
      ? true
      : short || tests.includes("undecidable")
        ? "undecidable"
        : false,
    reference: references.includes(true) ? true : short || references.includes(null) ? null : false,
  };
}
