import type { PartsOfWhole, SmallCounts } from "../../disclosure/index.js";
import { isLimit, type Protocol, type ProtocolLimit } from "../../protocol/index.js";
import { directionOf, isStrict } from "../../rows/index.js";
import { type TableCellName, tableCellOf, tableCells } from "./coarseCondition.js";
import { impliedCount, joined, type Ledger, noLedger } from "./ledger.js";
import { cellName, hasSameRows, type Placed } from "./ledgers.js";

const sides = [
  { name: "target", beyond: ["truePositive", "falseNegative"] },
  { name: "referWhen", beyond: ["truePositive", "falsePositive"] },
] as const;

/**
 * Rows between two limits on one variable, at the exam or at the referral, of a condition and each earlier
 * one: they follow from the rows beyond the limits. Beyond limits that are the same lie the same rows.
 */
export function nestedLedger(
  place: Placed,
  earlier: readonly Placed[],
  { conditions }: Pick<Protocol, "conditions">,
  { fewerThan }: SmallCounts,
): Ledger {
  const sideOf = ({ condition }: Placed, name: "target" | "referWhen") =>
    conditions.find(({ id }) => id === condition.id)![name];
  return joined(
    ...earlier.map((other) => crossedLedger(place, other, sideOf)),
    ...earlier.flatMap((other) =>
      sides.map(({ name: side, beyond }): Ledger => {
        const further = strictness(sideOf(place, side), sideOf(other, side));
        if (further === null) return noLedger;
        const [more, less] = further <= 0 ? [place, other] : [other, place];
        const between = rowsBeyond(more, beyond) - rowsBeyond(less, beyond);
        // not nested where a policy leaves other children out of each
        if (between < 0) return noLedger;
        const name = `${side} between ${place.condition.id} and ${other.condition.id}`;
        const parts = [...beyondOf(more, beyond, 1), ...beyondOf(less, beyond, -1)];
        const implied = {
          ...impliedCount(name, between, fewerThan),
          equations: [{ whole: name, parts }],
        };
        if (further !== 0) return implied;
        return between === 0
          ? { ...implied, known: [{ name, low: 0, high: 0 }], small: [], implied: [] }
          : noLedger;
      }),
    ),
  );
}

type SideOf = (
  place: Placed,
  name: "target" | "referWhen",
) => Protocol["conditions"][number]["target"];

/**
 * Both limits of two conditions cut the same rows into up to nine: beyond the stricter limit, between the two
 * and within, at the referral and at the exam. The tables of both are sums of these.
 */
function crossedLedger(one: Placed, other: Placed, sideOf: SideOf): Ledger {
  const of = (name: "target" | "referWhen") => strictness(sideOf(one, name), sideOf(other, name));
  const [exam, referral] = [of("target"), of("referWhen")];
  if (exam === null || referral === null || !hasSameRows(one, other)) return noLedger;
  const parts = (further: number) => [0, ...(further === 0 ? [] : [1]), 2];
  const nameOf = (sent: number, has: number) =>
    `rows ${sent} ${has} of ${one.condition.id} and ${other.condition.id}`;
  // beyond its own limit: the first part, and for the more lenient of the two the part between as well
  const isBeyond = (part: number, isStricter: boolean) => part === 0 || (part === 1 && !isStricter);
  const tableOf = (place: Placed, sign: 1 | -1) => {
    const isSent = (part: number) => isBeyond(part, sign * referral > 0);
    const isCase = (part: number) => isBeyond(part, sign * exam > 0);
    return tableCells.map((name): PartsOfWhole => {
      const own = parts(referral).flatMap((sent) =>
        parts(exam).flatMap((has) =>
          tableCellOf({
            studied: isSent(sent) ? "refer" : "pass",
            state: isCase(has) ? "with" : "without",
          }) === name
            ? [{ name: nameOf(sent, has) }]
            : [],
        ),
      );
      const counted = beyondOf(place, [name], -1);
      const zero = `no rows of ${name} of ${place.condition.id} beside ${sign}`;
      return { whole: zero, parts: [...own, ...counted] };
    });
  };
  const equations = [...tableOf(one, 1), ...tableOf(other, -1)];
  return {
    known: equations.map(({ whole }) => ({ name: whole, low: 0, high: 0 })),
    equations,
    small: [],
    open: parts(referral).flatMap((sent) => parts(exam).map((has) => nameOf(sent, has))),
  };
}

/** More than 0 where the first limit is the stricter one; null where neither lies within the other. */
function strictness(
  one: Protocol["conditions"][number]["target"],
  other: Protocol["conditions"][number]["target"],
): number | null {
  if (!isLimit(one) || !isLimit(other) || one.quantity !== other.quantity) return null;
  if (directionOf(one) !== directionOf(other)) return null;
  const towards = directionOf(one) === "high" ? 1 : -1;
  const place = (limit: ProtocolLimit) => towards * limit.limit + (isStrict(limit) ? 0.0005 : 0);
  return place(one) - place(other);
}

function beyondOf({ condition, cells }: Placed, beyond: readonly TableCellName[], times: number) {
  return cells.flatMap((cell, at) =>
    (beyond as readonly (TableCellName | null)[]).includes(tableCellOf(cell))
      ? [{ name: cellName(condition, at), times: times * cell.eyes }]
      : [],
  );
}

function rowsBeyond({ condition }: Placed, names: readonly TableCellName[]): number {
  return names.reduce((sum, name) => sum + condition.table[name], 0);
}
