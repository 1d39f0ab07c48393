import { hasSmallCell, isSmallCount, shownTogether } from "../../privacy/index.js";
import type { StudyResult } from "../run/studyResult.js";

/** Which numbers of eyes or children stand in a report beside each other. */
interface ShownTotals {
  /** Of each component of the agreement, in their order. */
  readonly agreement: readonly boolean[];
  /** Of the plane of J0 and J45. */
  readonly plane: boolean;
  /** Of each condition's curve, in their order. */
  readonly curves: readonly boolean[];
}

type Counted = Pick<StudyResult, "agreement" | "astigmatism" | "conditions" | "protocol">;

/**
 * A journal sees every number. The public sees those of the tables of counts first, and of the others
 * none that differs by 1 to 10 from one that it sees: the difference is the number of rows that one
 * analysis has and the other has not. Where each child has one eye in the study, eyes and children are
 * one series, else two.
 */
export function shownTotals({
  agreement,
  astigmatism,
  conditions,
  protocol,
}: Counted): ShownTotals {
  const eyes = agreement.map(({ limits }) => limits.n);
  const plane = astigmatism === null ? [] : [astigmatism.summary.n];
  const curves = conditions.map(({ curve }) => (curve.kind === "undefined" ? 0 : curve.n));
  if (protocol.audience !== "public") {
    return { agreement: eyes.map(() => true), plane: true, curves: curves.map(() => true) };
  }
  const tables = countedTotals({ conditions });
  const together = protocol.unit === "eye" || !["both", "worse"].includes(protocol.eye);
  const ofEyes = apart(together ? tables : [], [...eyes, ...plane]);
  const numbers = [...eyes, ...plane].filter((_, at) => ofEyes[at]);
  return {
    agreement: eyes.map((_, at) => ofEyes[at]!),
    plane: plane.length === 0 || ofEyes.at(-1)!,
    curves: apart(together ? [...tables, ...numbers] : tables, curves),
  };
}

/** The whole of each table of counts that the report shows, and with those that it could not decide. */
function countedTotals({ conditions }: Pick<StudyResult, "conditions">): readonly number[] {
  return conditions
    .filter(({ table }) => !hasSmallCell(table))
    .flatMap(({ n, table, undecidable }) => {
      const counted = Object.values(table).reduce((sum, cell) => sum + cell, 0);
      const decided = isSmallCount(undecidable) ? [] : [n - undecidable, n + undecidable];
      return [n, counted, ...decided.filter((count) => count >= 0)];
    });
}

/** Whether each number is no small count, and differs by none from the known ones and those before it. */
function apart(known: readonly number[], numbers: readonly number[]): readonly boolean[] {
  const series = [...known, ...numbers];
  const total = Math.max(...series, 0);
  const shown = shownTogether(
    series.map((n) => [n]),
    [total],
  );
  // what the report prints anyway is known, even where two of them lie close together
  return numbers.map(
    (n, at) =>
      shown[known.length + at]! &&
      !isSmallCount(n) &&
      known.every((other) => !isSmallCount(Math.abs(other - n))),
  );
}
