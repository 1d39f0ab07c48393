import { InputError, type TwoByTwo } from "../results/index.js";
import type { IntervalMethod } from "./intervalMethods.js";
import { intervalsFit, type PrintedIntervals } from "./intervalsFit.js";
import { isShare, type PrintedMeasure, printedMeasures } from "./printedMeasures.js";
import { type PrintedNumber, printedNumber } from "./printedNumber.js";
import { type Counts, type PrintedUnit, printedShares, requireUnit } from "./printedShare.js";
import type { ShareMeasure, TableConditions } from "./tableSearch.js";

/** A number known exactly, or only between two. */
export type KnownCount = number | { readonly from: number; readonly to: number };

/** What is printed of a 2x2 table: the counts known, and the numbers as strings. */
export interface PrintedTwoByTwo {
  /**
   * Children or eyes in the table: a number, or a range to look through; without it every size up to
   * 1,000.
   */
  readonly n?: KnownCount;
  readonly withCondition?: KnownCount;
  readonly testPositive?: KnownCount;
  /** Printed numbers as strings, so that their decimals count: `{ sensitivity: "90.5" }`. */
  readonly printed: Readonly<Partial<Record<PrintedMeasure, string>>>;
  /**
   * How shares and the Youden index are printed. "percent" by default; required where no printed
   * share is above 1.
   */
  readonly unit?: PrintedUnit;
  /** Printed intervals that the table must reproduce too, all by one method. */
  readonly intervals?: PrintedIntervals;
  /** Required with `intervals`. */
  readonly interval?: IntervalMethod;
}

/** The printed numbers, read and checked. */
export interface PrintedSearch {
  readonly unit: PrintedUnit;
  readonly conditions: TableConditions;
  readonly ratios: readonly {
    readonly measure: PrintedMeasure;
    readonly number: PrintedNumber;
    readonly scale: number;
  }[];
  readonly intervals: ((table: TwoByTwo) => boolean) | undefined;
}

/** Reads and checks what is printed of a 2x2 table. */
export function printedSearch(caller: string, source: PrintedTwoByTwo): PrintedSearch {
  const { printed, intervals, interval } = source;
  if (typeof printed !== "object" || printed === null) {
    throw new InputError(
      `${caller} requires printed: { sensitivity: "90.5", ... }, got ${printed}`,
    );
  }
  for (const measure of Object.keys(printed)) {
    if (!printedMeasures.includes(measure as PrintedMeasure)) {
      throw new InputError(
        `${caller} requires printed measures among ${printedMeasures.join(", ")}, got ${measure}`,
      );
    }
  }
  const stated = requireUnit(caller, source.unit);
  const shares = printedShares(caller, onlyShares(printed), stated);
  const unit = stated ?? "percent";
  const ratios = printedMeasures.flatMap((measure) => {
    const text = printed[measure];
    if (text === undefined || isShare(measure)) return [];
    const number = printedNumber(caller, measure, text);
    const hundred = measure === "youdenIndex" && (unit === "percent" || number.percentSign);
    return [{ measure, number, scale: hundred ? 100 : 1 }];
  });
  if (shares.size + ratios.length === 0) {
    throw new InputError(`${caller} requires at least one printed measure, got none`);
  }
  if (intervals !== undefined && interval === undefined) {
    throw new InputError(`${caller} requires interval when intervals are given, got none`);
  }
  const n = knownCount(caller, "n", source.n ?? { from: 1, to: 1000 }, 1_000_000);
  const margin = (name: "withCondition" | "testPositive") =>
    source[name] === undefined ? null : knownCount(caller, name, source[name], n.to);
  return {
    unit,
    conditions: {
      n,
      withCondition: margin("withCondition"),
      testPositive: margin("testPositive"),
      shares: Object.fromEntries([...shares].map(([measure, { share }]) => [measure, share])),
    },
    ratios,
    intervals: intervals && interval ? intervalsFit(caller, intervals, interval, unit) : undefined,
  };
}

function onlyShares(
  printed: Readonly<Partial<Record<PrintedMeasure, string>>>,
): Partial<Record<ShareMeasure, string>> {
  return Object.fromEntries(
    Object.entries(printed).filter(([measure]) => isShare(measure as PrintedMeasure)),
  );
}

function knownCount(
  caller: string,
  name: string,
  value: KnownCount | undefined,
  most: number,
): Counts {
  const { from, to } =
    typeof value === "object" && value !== null
      ? value
      : { from: value as number, to: value as number };
  if (!Number.isInteger(from) || !Number.isInteger(to) || from < 0 || to < from || to > most) {
    const got = typeof value === "object" && value !== null ? `${from} to ${to}` : value;
    throw new InputError(
      `${caller} requires ${name} as a whole number or { from, to } within 0 and ${most}, got ${got}`,
    );
  }
  return { from, to };
}
