import { InputError } from "../results/index.js";
import { checkPrintedLimits, type LimitsName } from "./checkPrintedLimits.js";
import type { ComparedNumber } from "./comparedNumber.js";
import { limitsFromSd, sdFromLimits } from "./limitsAndSd.js";
import { printedPair, wholeCell } from "./printedCells.js";
import { asPrinted, printedNumber } from "./printedNumber.js";
import type { PrintedRow } from "./readPrintedRows.js";

/** Limits of agreement: bias against their midpoint, the limits against the SD. */
export function comparedLimits({ label, cells }: PrintedRow): ComparedNumber[] {
  const { bias, sd } = cells;
  if (bias === undefined) throw new InputError("requires bias, got none");
  if (cells.limits === undefined) {
    return sd === undefined ? nothing() : [derivedLimits(label, bias, sd)];
  }
  const { low, high } = printedPair("limits", cells.limits);
  const n = wholeCell(cells, "n");
  const printedAs = nameCell(cells.printedAs);
  const found = checkPrintedLimits({
    bias,
    low,
    high,
    ...(sd === undefined ? {} : { sd }),
    ...(n === undefined ? {} : { n }),
    ...(printedAs === undefined ? {} : { printedAs }),
  });
  const number = printedNumber("comparePrinted", "bias", bias);
  const rows: ComparedNumber[] = [
    {
      label,
      item: "bias",
      printed: bias,
      recomputed: asPrinted(found.midpoint, { decimals: number.decimals + 1 }),
      difference: found.midpoint - number.value,
      verdict: found.biasIsMidpoint ? "reproduced" : "not reproduced",
      cause: found.biasIsMidpoint
        ? "the midpoint of the limits, within rounding"
        : found.findings.filter((text) => !text.includes(" SD")).join("; "),
    },
  ];
  if (sd !== undefined) rows.push(limitsAgainstSd(label, { bias, sd, low, high }, found));
  else if (found.biasIsMidpoint) rows.push(derivedSd(label, { low, high }, low));
  return rows;
}

function limitsAgainstSd(
  label: string,
  printed: {
    readonly bias: string;
    readonly sd: string;
    readonly low: string;
    readonly high: string;
  },
  found: ReturnType<typeof checkPrintedLimits>,
): ComparedNumber {
  const multiplier = found.fits.length > 0 && !found.fits.includes("1.96 SD") ? 2 : undefined;
  const limits = limitsFromSd(printed, multiplier === undefined ? {} : { multiplier });
  const low = printedNumber("comparePrinted", "low", printed.low);
  const high = printedNumber("comparePrinted", "high", printed.high);
  const below = limits.low.value - low.value;
  const above = limits.high.value - high.value;
  return {
    label,
    item: "limits",
    printed: `${printed.low} to ${printed.high}`,
    recomputed: `${asPrinted(limits.low.value, low)} to ${asPrinted(limits.high.value, high)}`,
    difference: Math.abs(below) > Math.abs(above) ? below : above,
    verdict:
      found.readAs === "undecided" && found.fits.length === 0
        ? "undecided"
        : found.fits.length > 0
          ? "reproduced"
          : "not reproduced",
    cause: found.findings
      .filter((text) => text.includes(" SD") || text.startsWith("called"))
      .join("; "),
  };
}

function derivedLimits(label: string, bias: string, sd: string): ComparedNumber {
  const limits = limitsFromSd({ bias, sd });
  const number = printedNumber("comparePrinted", "sd", sd);
  return {
    label,
    item: "limits",
    printed: "",
    recomputed: `${asPrinted(limits.low.value, number)} to ${asPrinted(limits.high.value, number)}`,
    difference: null,
    verdict: "derived",
    cause: "bias plus and minus 1.96 SD; not printed",
  };
}

function derivedSd(
  label: string,
  limits: { readonly low: string; readonly high: string },
  like: string,
): ComparedNumber {
  const decimals = { decimals: printedNumber("comparePrinted", "low", like).decimals + 1 };
  const normal = sdFromLimits(limits);
  const two = sdFromLimits(limits, { multiplier: 2 });
  return {
    label,
    item: "sd",
    printed: "",
    recomputed: asPrinted(normal.value, decimals),
    difference: null,
    verdict: "derived",
    cause: `from the limits at 1.96 SD; ${asPrinted(two.value, decimals)} if they are 2 SD`,
  };
}

function nameCell(text: string | undefined): LimitsName | undefined {
  if (text === undefined || text === "limits of agreement" || text === "confidence interval") {
    return text;
  }
  throw new InputError(
    `requires printedAs "limits of agreement" or "confidence interval", got "${text}"`,
  );
}

function nothing(): never {
  throw new InputError("requires sd or limits beside bias, got neither");
}
