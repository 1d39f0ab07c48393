import type { Decision } from "../rows/index.js";
import type { ReferralRule, RuleCriterion } from "./types.js";

/** A decision is coded by its place here, as `crossClassify` reads it too. */
export const decisions: readonly Decision[] = ["pass", "refer", "undecidable"];

/** Why a child is undecidable, in the order of the codes. */
export const undecidableCauses = [
  "decided",
  "missing-value",
  "no-band",
  "age-spans-bands",
  "age-unknown",
] as const;
export type UndecidableCause = (typeof undecidableCauses)[number];

/** Children with a value exactly at a limit: those whom `>` and `>=` would tell apart. */
export interface AtLimit {
  readonly path: string;
  readonly criterion: RuleCriterion;
  readonly words: string;
  readonly children: number;
}

/** A rule on many children, as columns in the order of the children. */
export interface RuleDecisions {
  readonly kind: "rule-decisions";
  readonly rule: string;
  readonly title: string;
  readonly definition: ReferralRule["definition"];
  readonly citation: string | null;
  readonly appliesTo: ReferralRule["appliesTo"];
  readonly n: number;
  /** 0 pass, 1 refer, 2 undecidable. */
  readonly decision: { readonly codes: Uint8Array; readonly labels: readonly Decision[] };
  /** Why undecidable; 0 where decided. */
  readonly cause: { readonly codes: Uint8Array; readonly labels: readonly UndecidableCause[] };
  /** By child, one bit a criterion in the order of `criteria`: the limits that refer it. */
  readonly crossed: Uint32Array;
  readonly criteria: readonly RuleCriterion[];
  readonly counts: {
    readonly refer: number;
    readonly pass: number;
    readonly undecidable: number;
    readonly missingValue: number;
    readonly noBand: number;
    readonly ageSpansBands: number;
    readonly ageUnknown: number;
  };
  readonly atLimit: readonly AtLimit[];
  /** Within a month of an edge of a band, among those whose months are known. */
  readonly nearBandEdge: number;
  readonly caution: string;
}
