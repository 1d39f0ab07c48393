import { type CoarseCount, coarsen, type SmallCounts, totalOf } from "../../disclosure/index.js";
import type { CoarsePairs } from "../../privacy/index.js";
import type { Protocol } from "../../protocol/index.js";
import type { AgreementResult } from "../run/studyResult.js";
import { rowsIn, tableCellOf } from "./coarseCondition.js";
import { differenceLedger, isKept, partition } from "./eyesLedgers.js";
import { impliedCount, joined, type Ledger, noLedger, shownTogether } from "./ledger.js";
import { cellName, type Placed } from "./ledgers.js";
import { leavesOpen, type Region, within as withinRegion } from "./regions.js";

/** Eyes behind one component, as far as their counts may stand beside the tables. */
export interface ShownEyes {
  /** The fewest eyes that a reader can be sure of. */
  readonly least: number;
  /** Whether the cells of its figure are shown. */
  readonly cells: boolean;
  /** Rows below and above bias ± SDs. */
  readonly outside: { readonly below: CoarseCount; readonly above: CoarseCount } | null;
  /** Within the acceptable difference, and beyond it; `roundTo` is the step of both. */
  readonly within: {
    readonly count: CoarseCount;
    readonly rest: CoarseCount;
    readonly roundTo: number;
  } | null;
}

/** Counts of each component; null for one that fewer than 11 eyes or children have. */
export type AgreementEyes = {
  readonly [quantity in AgreementResult["quantity"] | "plane"]: ShownEyes | null;
};

interface Eyes {
  readonly agreement: readonly AgreementResult[];
  readonly pairs: { readonly [quantity in keyof AgreementEyes]?: CoarsePairs };
  readonly first: Placed;
  readonly protocol: Protocol;
  readonly rule: SmallCounts;
  /** Adds to the tables of the first condition. */
  readonly add: (ledger: Ledger) => boolean;
  /** Takes what stands beside these tables, where it does not join them. */
  readonly beside: (ledger: Ledger) => void;
}

/** Steps of the share within the acceptable difference: the protocol's, or a wider one. */
const steps = [1, 4];

/**
 * Which counts of eyes may be shown: those of the figures' cells, of the share within the acceptable
 * difference, and of the rows beyond the limits. Each adds up to the eyes of its component, and these,
 * but for eyes without a number, to the rows of the first condition. J0 and J45 are of the same eyes.
 */
export function agreementEyes(place: Eyes, withCounts: boolean): AgreementEyes {
  const { agreement, pairs, rule } = place;
  const of = (quantity: AgreementResult["quantity"]) =>
    agreement.find(
      (one) =>
        one.quantity === quantity && Math.min(one.limits.n, one.limits.subjects) >= rule.fewerThan,
    );
  const [M, J0, J45] = [of("M"), of("J0"), of("J45")];
  if (M === undefined) return { M: null, J0: null, J45: null, plane: null };
  const add = withCounts ? addedTo(place, M.limits.n) : () => false;
  const spherical = { name: "M eyes", add, rule };
  const shownM = shownOf(spherical, M, pairs.M ?? null, place.protocol.acceptableDifference);
  const other = J0 ?? J45;
  const isOne = J0 === undefined || J45 === undefined || J0.limits.n === J45.limits.n;
  if (
    other === undefined ||
    !isOne ||
    !withCounts ||
    !add(differenceLedger("M eyes", M.limits.n, "J eyes", other.limits.n, "without an axis", rule))
  ) {
    return { M: shownM, J0: null, J45: null, plane: null };
  }
  const astigmatic = { name: "J eyes", add, rule };
  const none = (one: AgreementResult | undefined) =>
    one === undefined ? null : shownOf(astigmatic, one, pairs[one.quantity] ?? null, null);
  const [zero, oblique] = [none(J0), none(J45)];
  const cells = pairs.plane?.cells.map(({ n }) => coarsen(n, rule)) ?? [];
  const isPlane = cells.length > 0 && add(partition("J eyes", "plane", cells));
  const least = Math.max(
    rule.fewerThan,
    zero?.least ?? 0,
    oblique?.least ?? 0,
    isPlane ? totalOf(cells).low : 0,
  );
  const both = <Shown extends ShownEyes | null>(shown: Shown) => shown && { ...shown, least };
  return {
    M: shownM,
    J0: both(zero),
    J45: both(oblique),
    plane: { least, cells: isPlane, outside: null, within: null },
  };
}

/** Adds to the tables where their rows are those examined; else beside the examined alone. */
function addedTo({ first, protocol, rule, add, beside }: Eyes, n: number): Eyes["add"] {
  const examined = first.cells.filter((cell) => tableCellOf(cell) !== null);
  const eyesOfRow =
    protocol.unit === "child" && (protocol.eye === "worse" || protocol.eye === "both") ? 2 : 1;
  const { truePositive, falsePositive, falseNegative, trueNegative } = first.condition.table;
  const rows = truePositive + falsePositive + falseNegative + trueNegative;
  const complete = protocol.verification === "complete";
  const name = complete ? `${first.condition.id} rows` : "examined";
  const ends = rowsIn(examined);
  const known = complete ? [] : [{ name, low: ends.low, high: ends.high }];
  const anchor = differenceLedger(name, eyesOfRow * rows, "M eyes", n, "unpaired", rule, eyesOfRow);
  const start = { ...anchor, known };
  if (complete) return add(anchor) ? add : () => false;
  const parts = first.cells.flatMap((cell, at) =>
    tableCellOf(cell) === null ? [] : [{ name: cellName(first.condition, at), times: cell.eyes }],
  );
  beside(joined(start, { ...noLedger, equations: [{ whole: name, parts }] }));
  const shown = shownTogether([start], rule.fewerThan);
  return (more) => {
    const isAdded = shown.add(more);
    if (isAdded) beside(more);
    return isAdded;
  };
}

function shownOf(
  {
    name,
    add,
    rule,
  }: { readonly name: string; readonly add: Eyes["add"]; readonly rule: SmallCounts },
  { quantity, limits, withinAcceptable }: AgreementResult,
  pairs: CoarsePairs | null,
  acceptable: number | null,
): ShownEyes {
  const drawn = pairs?.cells.map(({ n }) => coarsen(n, rule)) ?? [];
  const cells = drawn.length > 0 && add(partition(name, `${quantity} cell`, drawn));
  const isOpen = (regions: readonly Region[]) =>
    !cells || leavesOpen(pairs?.cells ?? [], regions, rule, limits.n);
  const { n } = limits;
  const share =
    acceptable === null || withinAcceptable?.kind !== "estimate" ? null : withinAcceptable;
  const inside = share === null ? 0 : Math.round(share.value * n);
  const within =
    share === null || acceptable === null
      ? undefined
      : steps
          .map((times) => {
            const roundTo = rule.roundTo * times;
            const own = { ...rule, roundTo };
            return { count: coarsen(inside, own), rest: coarsen(n - inside, own), roundTo };
          })
          .find(
            ({ count, rest }) =>
              isOpen([{ count, rest, holds: withinRegion(-acceptable, acceptable) }]) &&
              add(partition(name, "within", [count, rest])),
          );
  const [below, above] = [limits.outside.below, limits.outside.above].map((one) =>
    coarsen(one, rule),
  ) as [CoarseCount, CoarseCount];
  const outer = { below, above };
  const partitions = [
    ...(cells ? [totalOf(drawn)] : []),
    ...(within === undefined ? [] : [totalOf([within.count, within.rest])]),
  ];
  const all = {
    low: Math.max(rule.fewerThan, ...partitions.map((one) => one.low)),
    high: Math.min(Number.POSITIVE_INFINITY, ...partitions.map((one) => one.high)),
  };
  const restOf = (one: CoarseCount) => ({ low: all.low - one.high, high: all.high - one.low });
  const [low, high] = [limits.lower.value, limits.upper.value];
  const isBeside =
    within === undefined ||
    isKept(
      { exact: n - inside, count: within.rest },
      { exact: limits.outside.below + limits.outside.above, count: totalOf([below, above]) },
      rule,
    );
  const outside =
    isBeside &&
    isOpen([
      {
        count: below,
        rest: restOf(below),
        holds: withinRegion(Number.NEGATIVE_INFINITY, low, 0.005),
      },
      {
        count: above,
        rest: restOf(above),
        holds: withinRegion(high, Number.POSITIVE_INFINITY, 0.005),
      },
    ]) &&
    add(
      joined(
        impliedCount(
          `${quantity} inside`,
          n - limits.outside.below - limits.outside.above,
          rule.fewerThan,
        ),
        {
          known: [
            { name: `${quantity} below`, low: below.low, high: below.high },
            { name: `${quantity} above`, low: above.low, high: above.high },
          ],
          equations: [
            {
              whole: name,
              parts: [
                { name: `${quantity} below` },
                { name: `${quantity} above` },
                { name: `${quantity} inside` },
              ],
            },
          ],
          small: [
            ...(below.low === 0 ? [`${quantity} below`] : []),
            ...(above.low === 0 ? [`${quantity} above`] : []),
          ],
        },
      ),
    )
      ? outer
      : null;
  return { least: all.low, cells, outside, within: within ?? null };
}
