import { labelList } from "../read/labelList.js";
import type { Cohort, Findings, OwnColumn, Readings } from "../types.js";

/** Values of a user's own column, row by row: "" where a word is missing, NaN where a number is. */
export type OwnValues = readonly string[] | Float64Array;

/** A child's own columns: of its first reading that is filled, else of its first finding. */
export function childOwn(
  n: number,
  readings: Readings,
  childOfReading: Int32Array,
  findings: Findings,
  childOfFinding: Int32Array,
): readonly OwnColumn[] {
  const sources = [
    { data: readings, childOf: childOfReading },
    { data: findings, childOf: childOfFinding },
  ];
  const labels = new Set(sources.flatMap(({ data }) => (data.own ?? []).map(({ label }) => label)));
  return [...labels].map((label) => {
    const words = labelList();
    const codes = new Int32Array(n).fill(words.codeOf(""));
    const numbers = new Float64Array(n).fill(Number.NaN);
    let type: OwnColumn["type"] | null = null;
    for (const { data, childOf } of sources) {
      const column = data.own?.find((one) => one.label === label);
      if (column === undefined) continue;
      // the readings say what the column is
      type ??= column.type;
      if (column.type !== type) continue;
      for (let row = 0; row < data.n; row++) {
        const child = childOf[data.subject.codes[row]];
        if (column.type === "number") {
          if (Number.isNaN(numbers[child])) numbers[child] = column.values[row];
        } else if (codes[child] === 0) {
          codes[child] = words.codeOf(column.values.labels[column.values.codes[row]]);
        }
      }
    }
    return type === "number"
      ? { label, type, values: numbers }
      : { label, type: "words", values: { codes, labels: words.labels } };
  });
}

/** The own columns of readings and of findings at the rows of some pairs; undefined where there are none. */
export function ownOfPairs(
  { readings, findings }: Cohort,
  readingRows: readonly number[],
  findingRows: readonly number[],
) {
  if ((readings.own ?? []).length + (findings.own ?? []).length === 0) return undefined;
  return { reading: atRows(readings.own, readingRows), finding: atRows(findings.own, findingRows) };
}

/** Own columns at some rows; -1 is no row, where all is missing. */
export function atRows(
  own: readonly OwnColumn[] = [],
  rows: readonly number[],
): Readonly<Record<string, OwnValues>> {
  return Object.fromEntries(own.map((column) => [column.label, valuesAt(column, rows)]));
}

function valuesAt(column: OwnColumn, rows: readonly number[]): OwnValues {
  if (column.type === "number") return Float64Array.from(rows, (row) => column.values[row]);
  const { codes, labels } = column.values;
  return rows.map((row) => labels[codes[row]] ?? "");
}
