import type { CellFormat } from "../results/index.js";
import { fixed, grouped } from "../rows/index.js";

/**
 * A number by the rules of its format. Halves are rounded away from zero on the number's shortest
 * decimal form (1.005 to 1.01); zero has no sign; minus is "-".
 *
 * - count: whole, commas from 10,000
 * - dioptres: two decimals
 * - percent: a share of 1 as "96.3 %", one decimal; more where 100 or 0 would not be true
 * - proportion: two decimals, three between 0.995 and 1 and between 0 and 0.005
 * - ratio: two decimals below 10, one below 100, none above
 * - per-1000: a number of 1000, whole, or one decimal where its interval is narrower than 10
 * - p: two significant digits, "<0.0001" below that
 * - number: whole numbers as they are, others with four significant digits
 */
export function numberText(value: number, format: CellFormat, decimals?: number): string {
  if (!Number.isFinite(value)) return value > 0 ? "infinity" : value < 0 ? "-infinity" : "";
  if (format === "percent") return `${percentText(value, decimals ?? 1)} %`;
  if (decimals !== undefined) return fixed(value, decimals);
  switch (format) {
    case "count":
      return grouped(fixed(value, Number.isInteger(value) ? 0 : 1));
    case "dioptres":
      return fixed(value, 2);
    case "proportion":
      return fixed(value, nearAnEnd(value) ? 3 : 2);
    case "ratio":
      return fixed(value, Math.abs(value) < 10 ? 2 : Math.abs(value) < 100 ? 1 : 0);
    case "per-1000":
      return fixed(value, value >= 10 ? 0 : 1);
    case "p":
      return probability(value);
    default:
      return Number.isInteger(value) ? String(value === 0 ? 0 : value) : significant(value, 4);
  }
}

/** "p = 0.021", "p < 0.0001", with the letter that is asked for. */
export function probabilityText(p: number, letter: "p" | "P" = "p"): string {
  const printed = probability(p);
  return /^[<>]/.test(printed)
    ? `${letter} ${printed[0]} ${printed.slice(1)}`
    : `${letter} = ${printed}`;
}

/** A share in percent: as many decimals as it takes not to print 100 of less, or 0 of more than 0. */
export function percentText(share: number, decimals: number): string {
  for (let places = decimals; places <= decimals + 2; places++) {
    const text = fixed(share * 100, places);
    const isRound = Number(text) === 100 ? share !== 1 : Number(text) === 0 && share !== 0;
    if (!isRound || share < 0 || share > 1) return text;
  }
  const step = 10 ** -(decimals + 2);
  return share > 0.5 ? `>${fixed(100 - step, decimals + 2)}` : `<${fixed(step, decimals + 2)}`;
}

/** Decimals of an estimate and its limits: more where the interval is narrow. */
export function estimateDecimals(width: number, format: CellFormat): number | undefined {
  if (format === "per-1000") return width >= 10 ? 0 : 1;
  if (format !== "proportion" && format !== "number") return undefined;
  if (!(width > 0) || width >= 0.1) return width >= 100 ? 0 : width >= 10 ? 1 : 2;
  return Math.min(6, 1 - Math.floor(Math.log10(width)));
}

function nearAnEnd(value: number): boolean {
  return (value > 0.995 && value < 1) || (value > 0 && value < 0.005);
}

function probability(value: number): string {
  if (value < 0.0001) return "<0.0001";
  if (value > 0.99) return value === 1 ? "1.00" : ">0.99";
  return significant(value, 2);
}

function significant(value: number, digits: number): string {
  const size = Math.abs(value);
  if (size >= 1e15 || size < 1e-9) return value.toExponential(digits - 1);
  const whole = Math.floor(Math.log10(size)) + 1;
  return fixed(value, Math.max(0, digits - whole));
}
