import type { DetectedColumn } from "../detect/detected.js";
import { measuredRoles } from "../detect/measurementKind.js";
import type { Role } from "../detect/roles.js";
import { isBlankMark } from "../detect/wordLists.js";

/** What no column of one's own may be: who somebody is, a date, remarks, or a part of a measurement. */
const never: ReadonlySet<Role> = new Set([
  ...(["subject", "name", "address", "postal-code", "phone", "e-mail", "record-number"] as const),
  ...(["url", "device-serial", "row-number", "free-text", "date", "birth-date"] as const),
  ...(["other-date", "age", "age-unit", "eye", "unknown"] as const),
  ...measuredRoles,
]);

/** Numbers with more different values than this are amounts; fewer whole ones are codes of groups. */
const mostGroups = 20;

/** Whether a column that no key of a mapping reads can be carried along as it stands. */
export function canBeOwn({ is, questions, facts }: DetectedColumn): boolean {
  return !never.has(is) && questions.length === 0 && facts.filled > 0;
}

/**
 * Columns under labels of their own, for `own` in a block: the sex and the examiner by what they are, others by
 * their names. Numbers are numbers, except whole ones with few values (a grade, a group), which are words.
 *
 * @param alike the columns of the same name in all files, so that a label has one type
 */
export function ownOf(
  columns: readonly DetectedColumn[],
  alike: (name: string) => readonly DetectedColumn[],
): Readonly<Record<string, string | object>> {
  const own: Record<string, string | object> = {};
  for (const column of columns) {
    const name = column.column;
    const byRole = column.is === "sex" || column.is === "examiner";
    let label = byRole && !Object.hasOwn(own, column.is) ? column.is : name;
    for (let more = 2; Object.hasOwn(own, label); more++) label = `${name} ${more}`;
    // as a key of an object it would be lost
    if (label === "__proto__") continue;
    if (column.is === "examiner")
      own[label] = isCoded(column) ? name : { column: name, coded: true };
    else if (!byRole && alike(name).every(isAmount)) own[label] = { column: name, type: "number" };
    else own[label] = name;
  }
  return own;
}

/** Names that `prepare` has made codes of already. */
function isCoded({ facts }: DetectedColumn): boolean {
  return [...facts.cells.keys()].every((word) => isBlankMark(word) || /^Examiner \d+$/.test(word));
}

function isAmount({ is, facts }: DetectedColumn): boolean {
  const { numbers, cells } = facts;
  // as a reader takes a number, without a unit behind
  const reads = (cell: string) => isBlankMark(cell) || /^[+-]?\d*[.,]?\d+$/.test(cell);
  if (numbers.share === 0 || ![...cells.keys()].every(reads)) return false;
  return is === "day" || numbers.whole < 1 || cells.size > mostGroups;
}
