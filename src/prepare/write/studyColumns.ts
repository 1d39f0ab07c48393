import type { CalendarDate, CodedTable } from "../../cohort/index.js";
import type { PreparationChoices } from "../choices.js";
import { calendarPeriod } from "../dates/calendarPeriod.js";
import { type ChildDates, monthsAt } from "../dates/childDates.js";
import { columnFacts } from "../detect/columnFacts.js";
import type { DetectedColumn, DetectedFile } from "../detect/detected.js";
import type { Role } from "../detect/roles.js";
import { type Carried, carriedOf } from "./carried.js";
import type { CodeTable } from "./codeTable.js";
import type { ColumnPlan } from "./columnPlan.js";
import { codeWord } from "./fates.js";
import type { StudyColumn } from "./studyFile.js";

interface Parts {
  readonly tables: readonly CodedTable[];
  readonly detected: readonly DetectedFile[];
  readonly plans: readonly (readonly ColumnPlan[])[];
  readonly dates: ChildDates;
  readonly childOf: readonly Int32Array[];
  readonly numberOf: readonly string[];
  readonly codes: CodeTable;
  readonly period: PreparationChoices["period"];
}

/** The columns of each study file, and what they are, so that a mapping can be proposed for them. */
export function studyColumns(parts: Parts): {
  readonly study: readonly {
    readonly columns: readonly StudyColumn[];
    readonly file: DetectedFile;
  }[];
  readonly look: readonly string[];
} {
  const { carried, look } = carriedOf(parts, parts.numberOf.length);
  return { study: parts.tables.map((_, at) => columnsOf(parts, at, carried)), look };
}

function columnsOf(
  { tables, detected, plans, dates, childOf, numberOf, codes, period }: Parts,
  file: number,
  carried: readonly Carried[],
): { columns: StudyColumn[]; file: DetectedFile } {
  const table = tables[file];
  const child = childOf[file];
  const taken = new Set(table.header);
  const columns: StudyColumn[] = [];
  const found: DetectedColumn[] = [];
  const dateColumns = plans[file].flatMap(({ detected: column, fate }, at) =>
    fate === "day" ? [{ at, column }] : [],
  );
  /** The date that an age or a period of a row is taken at. */
  const main = dateColumns.find(({ column }) => column.of === "readings") ?? dateColumns[0];
  const dateAt = (at: number, row: number): CalendarDate | null =>
    dates.dates[file].get(at)?.[table.columns[at].codes[row]] ?? null;

  plans[file].forEach(({ detected: column, fate, kept, ages }, at) => {
    const { codes: cells, labels } = table.columns[at];
    if (fate === "number") {
      add(column, "subject", "subject", { text: (row) => numberOf[child[row]] });
    } else if (fate === "day") {
      const name = dateColumns.length === 1 ? "day" : `day of ${column.column}`;
      add({ ...column, unit: null }, "day", name, {
        text: (row) => {
          const date = dateAt(at, row);
          const zero = dates.zeros[child[row]];
          return date === null || Number.isNaN(zero) ? "" : String(date.day - zero);
        },
      });
    } else if (fate === "code") {
      const list = codes.get(codeWord(column.is));
      add(column, column.is, column.column, {
        codes: cells,
        labels: labels.map((label) => list?.get(label) ?? ""),
      });
    } else if (fate === "keep" && ages !== null) {
      for (const unit of ["months", "years"] as const) {
        if (!ages.units.has(unit)) continue;
        const name = ages.units.size === 1 ? column.column : `${column.column} in ${unit}`;
        // the cells are others than those of the file
        const facts = { ...column.facts, cells: new Map<string, number>() };
        add({ ...column, unit, facts }, "age", name, { text: ages[unit] });
      }
    } else if (fate === "keep" && kept !== null) {
      add(column, column.is, column.column, { codes: cells, labels: kept });
    }
  });
  const { holds } = detected[file];
  // "" stands for a child of whom the list says nothing, and for a row without a child
  for (const { column, texts } of holds === null || holds.length === 0 ? [] : carried) {
    if (found.some(({ is }) => is === column.is)) continue;
    const labels = [...new Set(["", ...texts])];
    const code = new Map(labels.map((label, at) => [label, at]));
    const own = { ...column, column: "", eye: null, block: "", of: null };
    const cells = child.map((one) => code.get(texts[one] ?? "") ?? 0);
    add(own, column.is, column.column, { codes: cells, labels });
  }
  const aged = detected[file].columns.some(({ is }) => is === "birth-date");
  const known = dates.births.some((birth) => birth !== null);
  const own = found.some(({ is }) => is === "age");
  if (main !== undefined && known && (aged || !own)) {
    const months = (row: number) => monthsAt(dates.births[child[row]], dateAt(main.at, row));
    const [first] = detected[file].columns;
    add(
      { ...first, unit: "months", eye: null, block: "", of: null, questions: [] },
      "age",
      "ageMonths",
      {
        text: (row) => String(months(row) ?? ""),
      },
    );
  }
  if (main !== undefined && period !== undefined && period.every !== "none") {
    const { every, schoolYearStarts = 1 } = period;
    const [first] = detected[file].columns;
    add({ ...first, eye: null, block: "", of: null }, "other", "period", {
      text: (row) => {
        const date = dateAt(main.at, row);
        return date === null ? "" : calendarPeriod(date, every, schoolYearStarts);
      },
    });
  }
  return { columns, file: { ...detected[file], columns: found } };

  function add(
    column: DetectedColumn,
    is: Role,
    wanted: string,
    cells: { codes: Int32Array; labels: readonly string[] } | { text: (row: number) => string },
  ): void {
    // a column that stays keeps its name
    const name = wanted === column.column && is === column.is ? wanted : free(wanted);
    columns.push({ name, ...cells });
    const facts =
      "codes" in cells
        ? columnFacts(
            { ...table, header: [name], columns: [{ codes: cells.codes, labels: cells.labels }] },
            0,
          )
        : { ...column.facts, column: name };
    found.push({
      ...column,
      is,
      column: name,
      facts: { ...column.facts, ...facts },
      questions: [],
    });
  }

  /** A name that no other column has. */
  function free(wanted: string): string {
    let name = wanted;
    for (let more = 2; taken.has(name); more++) name = `${wanted} ${more}`;
    taken.add(name);
    return name;
  }
}
