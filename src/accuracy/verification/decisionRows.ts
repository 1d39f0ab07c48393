import { InputError } from "../../results/index.js";
import {
  type ClusterColumns,
  type Clusters,
  childrenOf,
  requireSameLength,
  sitesOf,
  type TestColumn,
  type UndecidablePolicy,
  yesNoCodes,
} from "../../rows/index.js";
import { decidedCodes } from "../undecidable.js";

/** What a programme decided of screened children, what a rule says of them, and who was examined. */
export interface DecisionColumns extends ClusterColumns {
  /** "refer", "pass" or "unable": the decision that led to an exam, or to none. */
  readonly recorded: ArrayLike<string>;
  /** The rule under study. */
  readonly test: TestColumn;
  readonly reference: ArrayLike<boolean | number | string | null | undefined>;
  readonly reason: ArrayLike<string>;
  /** Of an examined pass: whether he came, or would have come, without being drawn; null: unknown. */
  readonly selfPresented?: ArrayLike<boolean | null>;
  /** Declared groups on which being examined may depend, beside the decision. */
  readonly strata?: ArrayLike<string>;
  /** Planned share of passes drawn, where it differs by group; groups of one share are pooled. */
  readonly shareDrawn?: ArrayLike<number>;
}

export interface DecisionRow {
  readonly row: number;
  readonly recorded: "refer" | "pass" | "unable";
  readonly studied: "refer" | "pass";
  /** Null where not examined. */
  readonly condition: boolean | null;
  readonly stands: boolean;
  readonly own: boolean;
  readonly stratum: string;
  readonly shareClass: string;
}

/** Why a child was examined, or that it was not. */
export const examinationReasons = [
  "referred",
  "sampled",
  "self-presented",
  "unknown",
  "not-examined",
];
const decisions: readonly string[] = ["refer", "pass", "unable"];

/** The rows that the policy keeps, checked, each with whom it may stand for. */
export function decisionRows(
  caller: string,
  columns: DecisionColumns,
  policy: UndecidablePolicy | undefined,
): {
  readonly rows: readonly DecisionRow[];
  readonly excluded: number;
  readonly rowsPerChild: number;
  /** Undefined where `columns` name none. */
  readonly sites: Clusters | undefined;
} {
  const { recorded, reference, reason, selfPresented, strata, shareDrawn } = columns;
  const given = { recorded, test: columns.test, reference, reason };
  const optional = { selfPresented, strata, shareDrawn };
  const n = requireSameLength(caller, {
    ...given,
    ...(Object.fromEntries(
      Object.entries(optional).filter(([, column]) => column !== undefined),
    ) as { [name: string]: ArrayLike<unknown> }),
  });
  const test = decidedCodes(caller, "test", columns.test, policy);
  const children = childrenOf(caller, columns, n);
  const known = knownOfTheDrawn(columns, n);
  const looked = Uint8Array.from(reason, (why, row) =>
    Number(why !== "not-examined" && test[row] < 2),
  );
  const conditions = yesNoCodes(caller, "reference of examined rows", reference, { only: looked });
  const rows: DecisionRow[] = [];
  for (let row = 0; row < n; row++) {
    const decision = requireOneOf(caller, "recorded", decisions, recorded[row], row);
    const why = requireOneOf(caller, "reason", examinationReasons, reason[row], row);
    if (test[row] === 2) continue;
    const examined = looked[row] === 1;
    const condition = examined ? conditions[row] === 1 : null;
    const came = examined && (selfPresented?.[row] === true || why === "self-presented");
    const own = decision === "pass" && known && came;
    rows.push({
      row,
      recorded: decision as DecisionRow["recorded"],
      studied: test[row] === 1 ? "refer" : "pass",
      condition,
      stands: examined && (own || standsByReason(decision, why)),
      own,
      stratum: strata?.[row] ?? "",
      shareClass: shareDrawn === undefined ? (strata?.[row] ?? "") : String(shareDrawn[row]),
    });
  }
  return {
    rows,
    excluded: n - rows.length,
    rowsPerChild: n === 0 ? 1 : n / children.count,
    sites: sitesOf(caller, columns, children),
  };
}

/** A pass stands for others when he was drawn, an unreadable child unless he came by himself. */
function standsByReason(decision: string, why: string): boolean {
  if (decision === "refer") return true;
  return decision === "pass" ? why === "sampled" : why !== "self-presented";
}

/** Whether "came by himself" is known of every pass who was drawn, so that those who came are a stratum. */
function knownOfTheDrawn({ recorded, reason, selfPresented }: DecisionColumns, n: number): boolean {
  if (selfPresented === undefined) return false;
  let isDrawn = false;
  for (let row = 0; row < n; row++) {
    if (recorded[row] !== "pass" || reason[row] !== "sampled") continue;
    if (selfPresented[row] == null) return false;
    isDrawn = true;
  }
  return isDrawn;
}

function requireOneOf(
  caller: string,
  name: string,
  words: readonly string[],
  value: string,
  row: number,
): string {
  if (!words.includes(value)) {
    throw new InputError(
      `${caller} requires ${name} ${words.join(", ")}, got ${String(value)} in row ${row}`,
    );
  }
  return value;
}
