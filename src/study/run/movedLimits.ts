import { crossClassify } from "../../accuracy/index.js";
import type { Protocol } from "../../protocol/index.js";
import type { TwoByTwo } from "../../results/index.js";
import { type Referred, referredOf, type Relation, takeRows } from "../../rows/index.js";
import {
  applyRule,
  bandOfChildren,
  movableLimits,
  type ReferralRule,
  ruleColumns,
  withLimit,
} from "../../rules/index.js";
import type { ConditionRows } from "./conditionRows.js";
import type { RuleSides } from "./ruleSides.js";

/** What a rule does to some rows; the undecidable by the protocol's policy. */
export interface RuleCounts {
  /** Of the examined. */
  readonly table: TwoByTwo;
  /** Examined or not. */
  readonly screened: number;
  readonly referred: number;
}

/** One limit of one age band, and the counts of the band wherever it stands. */
export interface MovedLimit {
  /** Where it stands in the rule's JSON. */
  readonly path: readonly (string | number)[];
  readonly relation: Relation;
  /** As the protocol has it. */
  readonly limit: number;
  /** In rising order of the limit, a step apart; the protocol's own is one of them. */
  readonly stops: readonly ({ readonly limit: number } & RuleCounts)[];
}

/**
 * A rule band by band, with one limit of a band moved and all else of it as in the protocol. A child is in one band,
 * so that the counts of the whole rule are the sum over its bands, wherever the limit of each stands.
 */
export interface MovedLimits {
  readonly kind: "moved-limits";
  readonly bands: readonly {
    /** Completed months, half-open; null where the rule has no bands. */
    readonly ageMonths: readonly [number, number | null] | null;
    /** As the protocol has all its limits. */
    readonly asFixed: RuleCounts;
    readonly limits: readonly MovedLimit[];
  }[];
  /** Rows whose age allows several bands, in each of which the rule says the same: they stay as they are. */
  readonly still: RuleCounts;
}

/** How far apart two stops are, by unit, and how many there are to each side. */
const steps = { D: 0.25, mm: 0.25, "prism D": 1, logMAR: 0.1 } as const;
const toEachSide = 10;

/**
 * Counts of the referral rule at every place of each of its movable limits. Null for a condition that no rule
 * refers, for an exploratory one, and for the public, who is shown no exact count.
 */
export function movedLimits(
  protocol: Protocol,
  role: "confirmatory" | "exploratory",
  rows: ConditionRows,
  { refer, screened, placeOf }: RuleSides,
): MovedLimits | null {
  if (refer === null || role !== "confirmatory" || protocol.audience === "public") return null;
  const { rule } = refer;
  const columns = ruleColumns(screened, "reading");
  const bandOf = bandOfChildren(rule, columns);
  const places = rows.subjects.map((child) => placeOf[child]);
  const rowsOf = (band: number) =>
    places.flatMap((place, row) => (bandOf[place] === band ? [row] : []));
  const countsOf = (own: readonly number[], test: (row: number) => Referred): RuleCounts => {
    const tests = own.map(test);
    const known = own.flatMap((row, at) => (rows.reference[row] === null ? [] : [at]));
    const { undecidable } = protocol;
    const decided = tests.filter((one) => one !== "undecidable").length;
    const referred = tests.filter((one) => one === true).length;
    return {
      table: crossClassify(
        {
          test: takeRows(tests, known),
          reference: known.map((at) => rows.reference[own[at]] === true),
        },
        { undecidable },
      ),
      screened: undecidable === "exclude" ? decided : own.length,
      referred: undecidable === "refer" ? referred + own.length - decided : referred,
    };
  };
  const fixed = (row: number) => rows.test[row];
  const movable = movableLimits(rule);
  return {
    kind: "moved-limits",
    bands: (rule.bands ?? [{ ageMonths: null }]).map(({ ageMonths }, band) => {
      const own = rowsOf(band);
      return {
        ageMonths,
        asFixed: countsOf(own, fixed),
        limits: movable
          .filter((one) => one.band === band)
          .map(({ path, limit: { relation, limit }, unit }) => ({
            path,
            relation,
            limit,
            stops: stopsOf(rule, path, limit, steps[unit]).map((moved) => {
              const { codes, labels } = applyRule(moved.rule, columns).decision;
              const counts = countsOf(own, (row) => referredOf(labels[codes[places[row]]]));
              return { limit: moved.limit, ...counts };
            }),
          })),
      };
    }),
    still: countsOf(rowsOf(-1), fixed),
  };
}

/** The rule with its limit a whole number of steps away, on the same side of 0. */
function stopsOf(
  rule: ReferralRule,
  path: readonly (string | number)[],
  limit: number,
  step: number,
): { readonly limit: number; readonly rule: ReferralRule }[] {
  return Array.from({ length: 2 * toEachSide + 1 }, (_, at) => at - toEachSide).flatMap((away) => {
    const there = Math.round(1000 * (limit + away * step)) / 1000;
    if (away !== 0 && there * limit <= 0) return [];
    const moved = withLimit(rule, path, there);
    return moved === null ? [] : [{ limit: there, rule: moved }];
  });
}
