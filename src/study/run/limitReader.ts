import type { Cohort, Eye } from "../../cohort/index.js";
import { drawnEye, quantityColumns } from "../../cohort/index.js";
import type { Protocol, ProtocolLimit } from "../../protocol/index.js";
import { directionOf, meets, onGrid } from "../../rows/index.js";
import type { LimitTest } from "./decided.js";
import { screenedOutcome } from "./screenedCohort.js";

/** Asks eyes and children of a cohort about one limit. Null: not screened, or not known. */
interface LimitReader {
  /** The eyes that the protocol looks at, in one child. */
  readonly sidesOf: (child: number) => readonly Eye[];
  readonly test: (child: number, side: Eye) => LimitTest | null;
  readonly condition: (child: number, side: Eye) => boolean | null;
  /** The exam's value, on the grid; NaN where there is none. */
  readonly found: (child: number, side: Eye) => number;
  /** Any of the child's eyes; an eye that is not there is undecidable, or unknown. */
  readonly testOfChild: (child: number) => LimitTest | null;
  readonly conditionOfChild: (child: number) => boolean | null;
}

export function limitReader(cohort: Cohort, protocol: Protocol, limit: ProtocolLimit): LimitReader {
  const { children, findings } = cohort;
  const columns = quantityColumns(cohort, limit.quantity, protocol.referenceStandard.equivalent);
  const high = directionOf(limit) === "high";
  const sidesOf = eyesOf(cohort, protocol);

  const test = (child: number, side: Eye): LimitTest | null => {
    const outcome = screenedOutcome(cohort, child, side);
    if (outcome === null) return null;
    const none = { test: "undecidable", value: Number.NaN } as const;
    if (outcome === "over-range" || outcome === "under-range") {
      if (limit.quantity !== "M") return none;
      return { ...none, test: (outcome === "over-range") === high };
    }
    if (unread.has(outcome)) return none;
    const value = onGrid(columns.test[children.readingRow[side][child]]);
    return Number.isNaN(value) ? none : { test: meets(value, limit), value };
  };

  const found = (child: number, side: Eye): number => {
    const row = children.findingRow[side][child];
    return row < 0 || findings.status.codes[row] !== 0
      ? Number.NaN
      : onGrid(columns.reference[row]);
  };
  const condition = (child: number, side: Eye): boolean | null => {
    const value = found(child, side);
    return Number.isNaN(value) ? null : meets(value, limit);
  };

  const testOfChild = (child: number): LimitTest | null => {
    const sides = sidesOf(child);
    const seen = sides.flatMap((side) => test(child, side) ?? []);
    if (seen.length === 0) return null;
    const values = seen.map(({ value }) => value);
    const complete = seen.length === sides.length && !values.some(Number.isNaN);
    return {
      test: seen.some((one) => one.test === true)
        ? true
        : seen.length < sides.length || seen.some((one) => one.test === "undecidable")
          ? "undecidable"
          : false,
      value: complete ? (high ? Math.max(...values) : Math.min(...values)) : Number.NaN,
    };
  };

  const conditionOfChild = (child: number): boolean | null => {
    // the condition is asked of screened eyes only
    const sides = sidesOf(child);
    const found = sides.map((side) =>
      screenedOutcome(cohort, child, side) === null ? null : condition(child, side),
    );
    return found.includes(true) ? true : found.includes(null) ? null : false;
  };

  return { sidesOf, test, condition, found, testOfChild, conditionOfChild };
}

/**
 * The eyes of a child that the protocol looks at. "random" draws one of two screened eyes from the
 * seed and the child's identifier, whether it was read or not.
 */
export function eyesOf(cohort: Cohort, { eye, seed }: Protocol): (child: number) => readonly Eye[] {
  if (eye === "right" || eye === "left") return () => [eye];
  if (eye !== "random") return () => ["right", "left"];
  const drawn = drawnEye(seed);
  return (child) => {
    const screened = (["right", "left"] as const).filter(
      (side) => screenedOutcome(cohort, child, side) !== null,
    );
    return screened.length < 2 ? screened : [screened[drawn(cohort.children.subject[child])]];
  };
}

const unread: ReadonlySet<string> = new Set([
  "not-attempted",
  "unreadable",
  "low-confidence",
  "reading-incomplete",
]);
