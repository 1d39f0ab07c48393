import type { CodedTable } from "../../cohort/index.js";
import { firstCells, share } from "./cellForms.js";
import type { ColumnFacts } from "./columnFacts.js";
import { dateColumn } from "./dateColumn.js";
import {
  birthWords,
  childWords,
  idWords,
  mayBeDate,
  nextWords,
  otherDateWords,
  saysDate,
} from "./nameWords.js";
import { roleOf } from "./roleOf.js";
import type { Role } from "./roles.js";
import * as words from "./vocabulary/index.js";
import { anyOf } from "./vocabulary/index.js";

const relatives = anyOf(words.relatives);

export function roleAlone(
  facts: ColumnFacts,
  table: CodedTable,
  all: readonly ColumnFacts[],
): Role | null {
  if (isRowNumber(facts, table, all)) return "row-number";
  if (isTimeOfDay(facts)) return "other-date";
  const idLike = idWords.test(facts.words) && !saysDate(facts);
  const powerLike = facts.notation >= 0.5 || facts.twoEyes !== null;
  if (!idLike && !powerLike && dateColumn(facts.cells, { serials: mayBeDate(facts) }) !== null) {
    // of a mother it goes, and gives no child an age
    if (birthWords.test(facts.words))
      return relatives.test(facts.words) ? "other-date" : "birth-date";
    const measured = /\b(screen\w*|exam\w*|visit|test)\b/.test(facts.words);
    const other = nextWords.test(facts.words) || (otherDateWords.test(facts.words) && !measured);
    return other ? "other-date" : "date";
  }
  return roleOf(facts);
}

/** "13:45" in most cells, some of them beyond the eleventh minute, which "5:11" of an age is not. */
function isTimeOfDay(facts: ColumnFacts): boolean {
  const time = /^([01]?\d|2[0-3])[:h]([0-5]\d)(:[0-5]\d)?( ?[ap]\.?m\.?| uhr)?$/i;
  const beyond = firstCells(facts, 200).some((text) => Number(time.exec(text)?.[2]) > 11);
  return beyond && share(facts, (text) => time.test(text)) > 0.8;
}

/** 1, 2, 3 ... down the file, under a name for that, or beside a column that names the child. */
function isRowNumber(facts: ColumnFacts, table: CodedTable, all: readonly ColumnFacts[]): boolean {
  const { numbers, filled, rows, words } = facts;
  if (filled < rows || numbers.share < 1 || numbers.whole < 1 || facts.cells.size < rows)
    return false;
  if (numbers.low > 1 || numbers.high - numbers.low + 1 > 1.05 * rows + 1) return false;
  if (
    /^(row|line|seq|sequence|index|sr|sl|s|serial|entry|lfd|n|no|nr|number|unnamed 0|rownum|rowid)( (no|nr|num|number|id))?$/.test(
      words,
    )
  ) {
    return true;
  }
  const at = all.indexOf(facts);
  const { codes, labels } = table.columns[at];
  const rising = codes.every(
    (code, row) => row === 0 || Number(labels[code]) > Number(labels[codes[row - 1]]),
  );
  const others = all.some(
    (one) => one !== facts && childWords.test(one.words) && idWords.test(one.words),
  );
  return rising && others && !childWords.test(words);
}
