/** A cell of a frame; what is missing is null. */
export type FrameCell = string | number | boolean | null;

/**
 * The part of a danfojs DataFrame (1.2) that is safe on data with missing values: looking and
 * selecting, and groups without missing values. The object is a real DataFrame; cast it for the rest, knowing that there
 * `groupby().count()` counts missing values, `groupby().mean()` of a group with one is NaN while
 * a column's `mean()` skips it, `std()` of one value is 0, `ne()` holds for a missing value, `sortValues()` goes astray at one, and
 * arithmetic is in 32 bits. Take
 * statistics from the functions of this package.
 */
export interface Frame {
  readonly columns: string[];
  /** Rows and columns. */
  readonly shape: number[];
  readonly values: unknown[];
  head(rows?: number): Frame;
  tail(rows?: number): Frame;
  /** Rows and columns by position: numbers, or ranges such as "0:10". */
  iloc(selection: { rows?: (string | number)[]; columns?: (string | number)[] }): Frame;
  loc(selection: { rows?: (string | number)[]; columns?: string[] }): Frame;
  column(name: string): FrameColumn;
  /** Rows of one value of a column, or of several columns; see `FrameGroups`. */
  groupby(columns: string[]): FrameGroups;
  /** Rows where a condition made from columns holds, as in `query(frame.column("M").lt(-3))`. */
  query(condition: FrameColumn): Frame;
  toString(): string;
}

/**
 * Groups of a frame, each statistic a frame with the grouping columns and "M_mean" and the like. Take rows with
 * a missing value out first, by `query`: it would be counted, and makes a mean or a sum NaN.
 */
export interface FrameGroups {
  /** The columns that the next statistic is of. */
  col(names: string[]): Pick<FrameGroups, "count" | "mean" | "sum" | "min" | "max">;
  count(): Frame;
  mean(): Frame;
  sum(): Frame;
  min(): Frame;
  max(): Frame;
}

/** One column; a comparison with a missing value is false. */
export interface FrameColumn {
  readonly values: unknown[];
  gt(other: number): FrameColumn;
  ge(other: number): FrameColumn;
  lt(other: number): FrameColumn;
  le(other: number): FrameColumn;
  eq(other: number | string): FrameColumn;
  and(other: FrameColumn): FrameColumn;
  or(other: FrameColumn): FrameColumn;
}
