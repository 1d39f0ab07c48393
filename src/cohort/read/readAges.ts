import type { AgeUnit } from "../columnMapping.js";
import { ageRule } from "./numberRules.js";
import { type CellContext, readNumbers, wholeNumbers } from "./readCells.js";

const yearsAndMonths = /^(\d{1,3}) ?[;:] ?(\d{1,2})$/;

/** An age written as 8;11, in completed months; NaN for anything else. */
export function monthsOf(text: string): number {
  const [, years, months] = yearsAndMonths.exec(text) ?? [];
  return Number(months) < 12 ? 12 * Number(years) + Number(months) : Number.NaN;
}

/**
 * One age column: completed months, or years where no more is known. Of years and months a whole number
 * alone is completed years; no month is invented.
 */
export function readAges(
  context: CellContext,
  column: number,
  unit: AgeUnit,
): { months: Float64Array; years: Float64Array } {
  const none = new Float64Array(context.rows.length).fill(Number.NaN);
  if (unit === "years-and-months") return readYearsAndMonths(context, column);
  const values = readNumbers(context, column, ageRule(unit));
  wholeNumbers(context, column, values, "age-not-whole", unit === "decimal-years" ? 12 : 1);
  return unit === "years" ? { months: none, years: values } : { months: values, years: none };
}

function readYearsAndMonths({ table, log, rows, missing }: CellContext, column: number) {
  const months = new Float64Array(rows.length).fill(Number.NaN);
  const years = months.slice();
  const { high } = ageRule("years-and-months");
  const nothing = missing("age", column, [0, high / 12]);
  const { codes, labels } = table.coded(column);
  const read = labels.map((label) => {
    const [inMonths, inYears] = [
      monthsOf(label),
      /^\d{1,3}$/.test(label) ? Number(label) : Number.NaN,
    ];
    return {
      months: inMonths <= high ? inMonths : Number.NaN,
      years: inYears <= high / 12 ? inYears : Number.NaN,
      isMissing: label === "" || nothing.says(label),
    };
  });
  for (let k = 0; k < rows.length; k++) {
    const code = codes[rows[k]];
    if (read[code].isMissing) continue;
    months[k] = read[code].months;
    years[k] = read[code].years;
    if (!Number.isNaN(months[k]) || !Number.isNaN(years[k])) continue;
    const [line, name] = [table.line(rows[k]), table.header[column]];
    log.add(line, name, labels[code], "age-range", "set-aside", "an age is written as 8;11 here");
  }
  return { months, years };
}
