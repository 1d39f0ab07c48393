import type { Cohort, EquivalentSource, Quantity } from "../cohort/index.js";
import { InputError } from "../results/index.js";
import type { Limit } from "../rows/index.js";

/** Eyes behind a printed number; "worse" is one value a child, for measures of a 2x2 table. */
export type PrintedEyes = "both" | "right" | "left" | "worse";

export type PrintedDirection = "test-minus-reference" | "reference-minus-test";

/** What a paper may leave unsaid, as one way to compute its numbers from data. */
export interface PrintedChoice {
  readonly eyes: PrintedEyes;
  /** Where the finding's M comes from. */
  readonly equivalent: EquivalentSource;
  /** Of agreement only. */
  readonly direction?: PrintedDirection;
  /** SDs from the bias to a limit; only where limits are printed. */
  readonly multiplier?: number;
  /** Of 2x2 tables only: whether a value at the limit itself meets it. */
  readonly atLimit?: "meets" | "does not meet";
}

/** What `reproducePrinted` is to try. */
export interface ReproduceOptions {
  /** Where the finding's M may come from; by default both, where the findings state one. */
  readonly try?: readonly EquivalentSource[];
  /** "either" by default. */
  readonly direction?: PrintedDirection | "either";
  /** By default "both", "right" and "left", and "worse" for a 2x2 table. */
  readonly eyes?: readonly PrintedEyes[];
  /** SDs from the bias to a limit; 1.96 and 2 by default. */
  readonly multipliers?: readonly number[];
  /** "M" by default. */
  readonly quantity?: Quantity;
  /** What refers by the reading; for measures of a 2x2 table. A value at the limit is tried both ways. */
  readonly referWhen?: Limit;
  /** What is the condition at the exam; for measures of a 2x2 table. */
  readonly target?: Limit;
}

const caller = "reproducePrinted";

/** The first three choices of every row; each room of numbers adds its own. */
export function basicChoices(
  { findings }: Cohort,
  options: ReproduceOptions,
  usual: readonly PrintedEyes[],
): Pick<PrintedChoice, "eyes" | "equivalent">[] {
  const states = findings.statedEquivalent != null && (options.quantity ?? "M") === "M";
  const all: readonly EquivalentSource[] = states ? ["computed", "stated"] : ["computed"];
  const equivalents = requireSome("try", options.try ?? all);
  return requireSome("eyes", options.eyes ?? usual).flatMap((eyes) =>
    equivalents.map((equivalent) => ({ eyes, equivalent })),
  );
}

/** A list with something in it. */
export function requireSome<Item>(name: string, list: readonly Item[]): readonly Item[] {
  if (list.length > 0) return list;
  throw new InputError(`${caller} requires ${name} to hold something to try, got an empty list`);
}

const eyeWords: Readonly<Record<PrintedEyes, string>> = {
  both: "all eyes",
  right: "right eyes",
  left: "left eyes",
  worse: "the worse eye of each child",
};

/** "all eyes, M of the exam as stated, reference minus test, limits at 1.96 SD". */
export function choiceWords(
  { eyes, equivalent, direction, multiplier, atLimit }: PrintedChoice,
  quantity: Quantity,
): string {
  const parts = [
    eyeWords[eyes],
    quantity === "M"
      ? `M of the exam ${equivalent === "stated" ? "as stated" : "from sphere and cylinder"}`
      : quantity,
    direction?.replaceAll("-", " "),
    multiplier === undefined ? undefined : `limits at ${multiplier} SD`,
    atLimit === undefined ? undefined : `a value at the limit ${atLimit} it`,
  ];
  return parts.filter((part) => part !== undefined).join(", ");
}
