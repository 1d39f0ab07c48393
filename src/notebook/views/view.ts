import type { PowerVector } from "../../refraction/index.js";
import type { FigureSpec, ForAudience, TableModel } from "../../results/index.js";

/** What a reader sees of a result: the answer in a sentence, its tables, and a figure where it has one. */
export interface View {
  /** The answer; "" where the table is the answer. */
  readonly headline: string;
  readonly tables: readonly TableModel[];
  readonly figure: FigureSpec | null;
}

/** Columns of data beside a result, from which its rows can be drawn. */
export interface DrawnRows {
  readonly test: ArrayLike<number>;
  readonly reference: ArrayLike<number>;
}

/** The same as power vectors, such as `powerVectorPairs` gives them. */
export interface DrawnVectors extends ForAudience {
  readonly test: ArrayLike<PowerVector>;
  readonly reference: ArrayLike<PowerVector>;
  /** The eye of each row, where left eyes are to be mirrored. */
  readonly eyes?: readonly ("right" | "left")[];
}

/** Whether rows hold vectors and not numbers. */
export const areVectors = (rows: DrawnRows | DrawnVectors): rows is DrawnVectors =>
  typeof rows.test[0] === "object";

/** How results of one kind are seen. What is not said here is shown by the general rules. */
export interface ViewRule<Result> {
  readonly headline: (result: Result) => string;
  /** Members whose tables and rows come first, in this order. */
  readonly first?: readonly string[];
  /** Members that no reader needs: codes, covariances, settings that the headline says. */
  readonly hidden?: readonly string[];
  /** In place of the general tables. */
  readonly tables?: (result: Result) => readonly TableModel[];
  /** A figure that the result alone suffices for, or the result with its rows. */
  readonly figure?: (result: Result, rows: DrawnRows | DrawnVectors | null) => FigureSpec | null;
}

export type ViewRules = { readonly [kind: string]: ViewRule<never> };

/** Lets a rule name the type of its results; rules of many kinds stand in one table. */
export function rule<Result>(one: ViewRule<Result>): ViewRule<never> {
  return one as ViewRule<never>;
}
