import type { Cohort } from "../cohort/index.js";
import { caution, type ForAudience, InputError, jointAudience } from "../results/index.js";
import type { ComparedNumber } from "./comparedNumber.js";
import { choiceWords, type PrintedChoice, type ReproduceOptions } from "./printedChoices.js";
import { printedMeasures, wordsOf } from "./printedMeasures.js";
import { asPrinted, printedFit, printedNumber } from "./printedNumber.js";
import type { PrintedRow } from "./readPrintedRows.js";
import { reproducedAccuracy } from "./reproducedAccuracy.js";
import { reproducedAgreement, type TriedChoice, type TriedNumber } from "./reproducedAgreement.js";

/** The choice under which one's own data come nearest to a printed row. */
export interface ReproducingChoice {
  readonly label: string;
  readonly choice: PrintedChoice;
  /** The choice in words. */
  readonly words: string;
  /** Rows behind it: eyes, or children. */
  readonly n: number;
  /** Printed numbers of the row that it reproduces, of so many. */
  readonly reproduced: number;
  readonly printed: number;
  /** Other choices that reproduce as many, in words; print does not tell them apart. */
  readonly equallyGood: readonly string[];
  /** Choices that were tried. */
  readonly tried: number;
  /** Printed columns of the row that are not compared here. */
  readonly aside: readonly string[];
}

/** Printed numbers beside those of one's own data, and the choices that reproduce them. */
export interface PrintedReproduction extends ForAudience {
  readonly kind: "printed-reproduction";
  /** One a printed row. */
  readonly choices: readonly ReproducingChoice[];
  /** Every printed number beside the one that the row's choice gives. */
  readonly rows: readonly ComparedNumber[];
  readonly reproduced: number;
  readonly notReproduced: number;
  readonly caution: string;
}

const caller = "reproducePrinted";

/**
 * A printed table beside one's own data: what a paper often leaves unsaid is tried, and the choice that
 * reproduces most of a row's printed numbers is named, with every number beside it.
 *
 * Columns that are not compared are named in `aside`; `matchIntervalMethod` takes intervals of measures apart.
 *
 * Tried are the finding's M computed and as stated, both directions of a difference, limits at 1.96 and 2 SD,
 * and both, right and left eyes; of a 2x2 table also the worse eye of each child, and whether a value at the
 * limit itself counts. Of choices that reproduce as many numbers the first stands that comes nearest to the
 * rest; the others are listed. SDs have the denominator n - 1, an interval of a mean is Student's. Rows are
 * taken as independent, as print mostly does: this finds out how a number was made and is no recommendation.
 *
 * The result holds counts of eyes that differ by few from choice to choice: it is for whoever holds the data.
 *
 * @param printed rows of `readPrintedRows`; columns compared are n, bias, mean, sd, se, limits and interval, or
 *   counts and measures of a 2x2 table, which need `referWhen` and `target`
 * @throws InputError when a row holds neither, a printed number cannot be read, or "stated" is asked for of
 *   findings that state no equivalent; the row is named
 *
 * @example
 * const eyes = [-1, -2.5, -4].map((sphere, at) => ({ subject: String(at), eye: "OD", sphere, cylinder: 0, axis: 0 }));
 * const exams = eyes.map((eye, at) => ({ ...eye, sphere: eye.sphere + [0.25, 0.5, 0.75][at] }));
 * const cohort = linkCohort({ readings: await readReadings(eyes), findings: await readFindings(exams) });
 * const printed = readPrintedRows("label,n,bias,sd,limits\nA,3,0.50,0.25,0.01 to 0.99");
 * reproducePrinted(cohort, printed).choices[0].words // => "all eyes, M of the exam from sphere and cylinder, reference minus test, limits at 1.96 SD"
 */
export function reproducePrinted(
  cohort: Cohort,
  printed: readonly PrintedRow[],
  options: ReproduceOptions = {},
): PrintedReproduction {
  const found = printed.map((row) => {
    try {
      return reproducedRow(row, triedOf(cohort, row, options), options);
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      throw new InputError(`${caller}, row "${row.label}": ${error.message}`);
    }
  });
  const rows = found.flatMap(({ numbers }) => numbers);
  const reproduced = rows.filter(({ verdict }) => verdict === "reproduced").length;
  return {
    kind: "printed-reproduction",
    ...jointAudience(cohort),
    choices: found.map(({ choice }) => choice),
    rows,
    reproduced,
    notReproduced: rows.length - reproduced,
    caution,
  };
}

function triedOf(cohort: Cohort, row: PrintedRow, options: ReproduceOptions): TriedChoice[] {
  const { cells } = row;
  const holds = (names: readonly string[]) => names.some((name) => cells[name] !== undefined);
  if (holds(["bias", "mean", "sd", "limits"])) return reproducedAgreement(cohort, row, options);
  if (holds([...printedMeasures, "truePositive"])) return reproducedAccuracy(cohort, row, options);
  throw new InputError(
    `requires bias, mean, sd or limits, or a measure of a 2x2 table, got ${Object.keys(cells).join(", ") || "none"}`,
  );
}

function reproducedRow(
  { label, cells }: PrintedRow,
  tried: readonly TriedChoice[],
  { quantity = "M" }: ReproduceOptions,
) {
  const judged = tried.map((one) => {
    const fits = one.numbers.map((number) => isReproduced(number));
    return { ...one, fits, count: fits.filter(Boolean).length, away: awayOf(one.numbers) };
  });
  const most = Math.max(...judged.map(({ count }) => count));
  const among = judged.filter(({ count }) => count === most);
  const best = among.reduce((first, next) => (next.away < first.away ? next : first));
  const named = (one: TriedChoice) => choiceWords(one.choice, quantity);
  const choice: ReproducingChoice = {
    label,
    choice: best.choice,
    words: named(best),
    n: best.n,
    reproduced: most,
    printed: best.numbers.length,
    equallyGood: most === 0 ? [] : among.filter((one) => one !== best).map(named),
    tried: tried.length,
    aside: asideOf(cells, best.numbers),
  };
  const numbers = best.numbers.map((number, at): ComparedNumber => {
    const giving = judged.filter(({ fits }) => fits[at]);
    return {
      label,
      item: wordsOf(number.item),
      printed: number.printed.join(" to "),
      ...recomputedOf(number),
      verdict: best.fits[at] ? "reproduced" : "not reproduced",
      cause: causeOf(best.fits[at] === true, giving, tried.length, named),
    };
  });
  return { choice, numbers };
}

const wordColumns = ["unit", "printedAs", "step", "source"];

/** What stands in print and not beside one's own: other columns, and intervals behind measures. */
function asideOf(cells: PrintedRow["cells"], numbers: readonly TriedNumber[]): string[] {
  const compared = new Map(numbers.map(({ item, printed }) => [item, printed]));
  return Object.entries(cells).flatMap(([column, text]) => {
    const printed = compared.get(column);
    if (printed === undefined) return wordColumns.includes(column) ? [] : [wordsOf(column)];
    return printed.length === 1 && text.trim() !== printed[0]
      ? [`${wordsOf(column)}, interval`]
      : [];
  });
}

function causeOf(
  isFit: boolean,
  giving: readonly TriedChoice[],
  tried: number,
  named: (one: TriedChoice) => string,
): string {
  if (isFit)
    return `${giving.length} of ${tried} choices ${giving.length === 1 ? "gives" : "give"} it`;
  if (giving.length === 0) return `none of ${tried} choices gives it`;
  return `given by: ${named(giving[0]!)}${giving.length === 1 ? "" : `, and ${giving.length - 1} more`}`;
}

const parts = ({ printed, values }: TriedNumber) =>
  printed.map((text, at) => ({
    number: printedNumber("", "a printed number", text),
    // no SD of one pair, no number to compare
    value: Number.isFinite(values[at]) ? values[at]! : null,
  }));

const isReproduced = (one: TriedNumber): boolean =>
  parts(one).every(
    ({ number, value }) => value !== null && printedFit(value, number) === "rounded",
  );

/** How far all numbers are from print, each in units of its last digit and at most a thousand. */
function awayOf(numbers: readonly TriedNumber[]): number {
  return numbers
    .flatMap(parts)
    .map(({ number, value }) =>
      value === null
        ? 1000
        : Math.min(1000, Math.abs(value * 10 ** number.decimals - number.units)),
    )
    .reduce((sum, distance) => sum + distance, 0);
}

function recomputedOf(one: TriedNumber): Pick<ComparedNumber, "recomputed" | "difference"> {
  const found = parts(one);
  const texts = found.map(({ number, value }) =>
    value === null
      ? null
      : // one decimal more than printed, to show where rounding stands; counts have none
        asPrinted(value, { decimals: number.decimals + (Number.isInteger(value) ? 0 : 1) }),
  );
  const apart = found.map(({ number, value }) =>
    value === null ? null : Number((value - number.value).toFixed(9)) + 0,
  );
  if (texts.includes(null) || apart.includes(null)) return { recomputed: null, difference: null };
  return {
    recomputed: texts.join(" to "),
    difference: (apart as number[]).reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a)),
  };
}
