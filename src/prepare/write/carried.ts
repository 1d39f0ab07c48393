import type { CodedTable } from "../../cohort/index.js";
import type { DetectedColumn, DetectedFile } from "../detect/detected.js";
import type { CodeTable } from "./codeTable.js";
import type { ColumnPlan } from "./columnPlan.js";
import { codeWord } from "./fates.js";

/** What a list of children says of each child, to be written beside the measurements that do not say it. */
export interface Carried {
  readonly column: DetectedColumn;
  /** Each child's cell, as it is written; "" where the list has none, or different ones. */
  readonly texts: readonly string[];
}

interface Lists {
  readonly tables: readonly CodedTable[];
  readonly detected: readonly DetectedFile[];
  readonly plans: readonly (readonly ColumnPlan[])[];
  readonly childOf: readonly Int32Array[];
  readonly codes: CodeTable;
}

const isList = ({ holds }: DetectedFile) => holds !== null && holds.length === 0;

/**
 * The place and the sex of each child by the first list of children that has them; ages are carried by the date of
 * birth. Children of whom a list says two things are told in `look`.
 */
export function carriedOf(
  { tables, detected, plans, childOf, codes }: Lists,
  children: number,
): { readonly carried: readonly Carried[]; readonly look: readonly string[] } {
  const carried: Carried[] = [];
  const look: string[] = [];
  for (const is of ["site", "sex"] as const) {
    const file = detected.findIndex((one, at) => isList(one) && plans[at].some(isWritten(is)));
    const at = plans[file]?.findIndex(isWritten(is)) ?? -1;
    if (at < 0) continue;
    const { detected: column, kept } = plans[file][at];
    const { codes: cells, labels } = tables[file].columns[at];
    const list = codes.get(codeWord(is));
    const texts = new Array<string>(children).fill("");
    const torn = new Set<number>();
    childOf[file].forEach((child, row) => {
      const label = labels[cells[row]];
      const text = kept === null ? (list?.get(label) ?? "") : kept[cells[row]];
      if (child < 0 || text === "") return;
      if (texts[child] !== "" && texts[child] !== text) torn.add(child);
      texts[child] = text;
    });
    for (const child of torn) texts[child] = "";
    carried.push({ column, texts });
    if (torn.size > 0)
      look.push(
        `${detected[file].file}: ${torn.size} children have more than one "${column.column}", which is left empty beside their measurements`,
      );
  }
  return { carried, look };
}

const isWritten =
  (is: "site" | "sex") =>
  ({ detected, fate }: ColumnPlan) =>
    detected.is === is && fate === (is === "site" ? "code" : "keep");
