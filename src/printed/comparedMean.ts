import { tQuantile } from "../inference/index.js";
import { InputError } from "../results/index.js";
import { type CheckedMean, checkPrintedMean } from "./checkPrintedMean.js";
import type { ComparedNumber } from "./comparedNumber.js";
import { sdFromMeanInterval } from "./limitsAndSd.js";
import { printedPair, wholeCell } from "./printedCells.js";
import { asPrinted, printedNumber } from "./printedNumber.js";
import type { PrintedRow } from "./readPrintedRows.js";

/** A mean against its SD, standard error, interval, n and the grid of single values. */
export function comparedMean({ label, cells }: PrintedRow): ComparedNumber[] {
  const { mean, sd, se, interval, step } = cells;
  const n = wholeCell(cells, "n");
  if (mean === undefined || n === undefined) {
    throw new InputError("requires mean and n, got only one of them");
  }
  const limits = interval === undefined ? undefined : printedPair("interval", interval);
  const found = checkPrintedMean({
    mean,
    n,
    ...(sd === undefined ? {} : { sd }),
    ...(se === undefined ? {} : { se }),
    ...limits,
    ...(step === undefined ? {} : { step: printedNumber("comparePrinted", "step", step).value }),
  });
  const rows: ComparedNumber[] = [];
  const spread = se ?? sd;
  if (sd !== undefined && se !== undefined) rows.push(standardError(label, sd, se, n, found));
  if (limits !== undefined && spread !== undefined) {
    const error =
      printedNumber("comparePrinted", "sd", spread).value / (se === undefined ? Math.sqrt(n) : 1);
    rows.push(meanInterval(label, mean, limits, error * tQuantile(0.975, n - 1), found));
  }
  if (limits !== undefined && spread === undefined) {
    const decimals = { decimals: printedNumber("comparePrinted", "low", limits.low).decimals };
    rows.push({
      label,
      item: "sd",
      printed: "",
      recomputed: asPrinted(sdFromMeanInterval({ ...limits, n }).value, decimals),
      difference: null,
      verdict: found.meanIsMidpoint ? "derived" : "not reproduced",
      cause: found.meanIsMidpoint
        ? "from the interval of the mean, by Student's t"
        : found.findings.join("; "),
    });
  }
  if (found.grid !== null) rows.push(onGrid(label, mean, found));
  if (rows.length === 0) {
    throw new InputError("requires an interval, sd with se, or step beside mean, got none");
  }
  return rows;
}

function standardError(
  label: string,
  sd: string,
  se: string,
  n: number,
  found: CheckedMean,
): ComparedNumber {
  const number = printedNumber("comparePrinted", "se", se);
  const value = printedNumber("comparePrinted", "sd", sd).value / Math.sqrt(n);
  return {
    label,
    item: "se",
    printed: se,
    recomputed: asPrinted(value, number),
    difference: value - number.value,
    verdict: found.seIsConsistent ? "reproduced" : "not reproduced",
    cause: found.seIsConsistent ? "SD / sqrt(n)" : "not SD / sqrt(n)",
  };
}

function meanInterval(
  label: string,
  mean: string,
  limits: { readonly low: string; readonly high: string },
  reach: number,
  found: CheckedMean,
): ComparedNumber {
  const centre = printedNumber("comparePrinted", "mean", mean).value;
  const low = printedNumber("comparePrinted", "low", limits.low);
  const high = printedNumber("comparePrinted", "high", limits.high);
  const below = centre - reach - low.value;
  const above = centre + reach - high.value;
  const fits = found.intervalFits.some((fit) => fit !== "limits of agreement");
  return {
    label,
    item: "interval of the mean",
    printed: `${limits.low} to ${limits.high}`,
    recomputed: `${asPrinted(centre - reach, low)} to ${asPrinted(centre + reach, high)}`,
    difference: Math.abs(below) > Math.abs(above) ? below : above,
    verdict: fits ? "reproduced" : "not reproduced",
    cause: found.findings.join("; "),
  };
}

function onGrid(label: string, mean: string, { grid, findings }: CheckedMean): ComparedNumber {
  const possible = grid!.meanPossible && grid!.sdPossible !== false;
  return {
    label,
    item: `values in steps of ${grid!.step}`,
    printed: mean,
    recomputed: null,
    difference: null,
    verdict: !possible ? "not reproduced" : grid!.decisive ? "reproduced" : "undecided",
    cause: !possible
      ? findings.filter((text) => text.includes("in these steps")).join("; ")
      : grid!.decisive
        ? "this many values in these steps can have this mean"
        : "with this n every mean of these decimals is possible",
  };
}
