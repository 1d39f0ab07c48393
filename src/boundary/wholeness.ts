/** What is missing of a thing whose parts belong together, by its kind; undefined where nothing is. */
export function lackOf(value: { readonly [key: string]: unknown }): string | undefined {
  return typeof value.kind === "string" ? lacks[value.kind]?.(value as never) : undefined;
}

/** Counts of a 2x2 table that are none. */
export function negativeCount(value: { readonly [key: string]: unknown }): string | undefined {
  const cells = ["truePositive", "falsePositive", "falseNegative", "trueNegative"];
  return cells.find((cell) => (value[cell] as number) < 0);
}

interface Table {
  readonly n: number;
  readonly [column: string]: unknown;
}

interface Space {
  readonly criteria: readonly string[];
  readonly limits: { readonly [criterion: string]: ArrayLike<unknown> };
  readonly withCondition: { readonly passed: ArrayLike<unknown> };
  readonly withoutCondition: { readonly passed: ArrayLike<unknown> };
}

const lacks: { readonly [kind: string]: ((value: never) => string | undefined) | undefined } = {
  readings: shortColumn,
  findings: shortColumn,
  cohort: shortCohort,
  "cohort-table": ({ n, columns }: CohortTable) =>
    shortColumn({ n, ...columns }) ?? infiniteIn(columns),
  "roc-curve": ({ points, n }: { readonly points: ArrayLike<unknown>; readonly n: number }) =>
    points.length === 0 ? "no points" : n > 0 ? undefined : "no rows",
  "rule-space": shortSpace,
};

interface CohortTable {
  readonly n: number;
  readonly columns: { readonly [column: string]: unknown };
}

interface CodedColumn {
  readonly codes: ArrayLike<number>;
  readonly labels: readonly string[];
}

/** Columns of numbers that may come as plain lists; other lists are not of rows. */
const measured = /^(sphere|cylinder|axis|M|J0|J45|day)$/;

/** A column of rows has `n` entries, and codes have their words. */
function shortColumn({ n, ...columns }: Table): string | undefined {
  for (const [name, column] of Object.entries(columns)) {
    const coded = isCoded(column) ? column : undefined;
    const values = coded?.codes ?? column;
    const isList =
      coded !== undefined ||
      (ArrayBuffer.isView(values) && "length" in values) ||
      (measured.test(name) && Array.isArray(values));
    if (!isList) continue;
    const { length } = values as ArrayLike<unknown>;
    if (length !== n) return `${length} rows of ${name} for n ${n}`;
    if (coded === undefined) continue;
    for (let row = 0; row < n; row++) {
      const code = coded.codes[row]!;
      if (!(code >= 0 && code < coded.labels.length)) return `no word for row ${row} of ${name}`;
    }
  }
  return undefined;
}

/** A table of eyes is written out: a number in it is finite, or NaN for missing. */
function infiniteIn(columns: CohortTable["columns"]): string | undefined {
  for (const [name, column] of Object.entries(columns)) {
    if (!(column instanceof Float64Array)) continue;
    const row = column.findIndex((value) => Math.abs(value) === Number.POSITIVE_INFINITY);
    if (row >= 0) return `an infinite number in row ${row} of ${name}`;
  }
  return undefined;
}

const isCoded = (column: unknown): column is CodedColumn =>
  typeof column === "object" && column !== null && "codes" in column && "labels" in column;

interface CohortParts {
  readonly readings: { readonly n: number };
  readonly findings: { readonly n: number };
  readonly children: {
    readonly n: number;
    readonly readingRow: Sides;
    readonly findingRow: Sides;
    readonly [column: string]: unknown;
  };
}
interface Sides {
  readonly right: ArrayLike<number>;
  readonly left: ArrayLike<number>;
}

/** Each column of the children has `n` entries, and each row of theirs is one of its file. */
function shortCohort({ readings, findings, children }: CohortParts): string | undefined {
  const { n, readingRow, findingRow, ...columns } = children;
  const rows = [
    ["readingRow", readingRow, readings.n],
    ["findingRow", findingRow, findings.n],
  ] as const;
  for (const [name, sides, last] of rows) {
    for (const side of ["right", "left"] as const) {
      const list = sides[side];
      if (list.length !== n) return `${list.length} rows of ${name}.${side} for n ${n}`;
      for (let child = 0; child < n; child++) {
        if (!(list[child]! >= -1 && list[child]! < last)) {
          return `no row ${list[child]} for ${name}.${side} of child ${child}`;
        }
      }
    }
  }
  return shortColumn({ n, ...columns });
}

/** A table of counts has a place for each rule. */
function shortSpace(space: Space): string | undefined {
  const { criteria, limits, withCondition, withoutCondition } = space;
  const lost = criteria.find((name) => !Object.hasOwn(limits, name));
  if (lost !== undefined) return `no limits of ${lost}`;
  const rules = criteria.reduce((product, name) => product * limits[name].length, 1);
  for (const { passed } of [withCondition, withoutCondition]) {
    if (passed.length !== rules) return `counts of ${passed.length} rules for ${rules}`;
  }
  return undefined;
}
