import { type CellVector, inlineBytes } from "./cellVector.js";
import { parseNumber } from "./textTable.js";

const powersOfTen = Float64Array.from({ length: inlineBytes + 1 }, (_, power) => 10 ** power);

/**
 * The numbers of a column of cells, as `parseNumber` reads each one, and NaN where a cell is empty or no
 * number. Digits with at most one decimal point are read byte by byte; at most `inlineBytes` digits over
 * a power of ten round once, as the text itself does. Everything else is read from its text.
 *
 * @param numbers what is written and returned
 */
export function plainNumbers(
  { words, bytes, text }: CellVector,
  decimal: "." | ",",
  numbers: Float64Array,
): Float64Array {
  // read once: an imported constant has its price in the loop below
  const longest = inlineBytes;
  const comma = decimal === "," ? 44 : 46;
  for (let row = 0; row < numbers.length; row++) {
    const length = words[4 * row];
    if (length === 0) {
      numbers[row] = Number.NaN;
      continue;
    }
    let digits = 0;
    let at = 16 * row + 4;
    const end = at + length;
    let sign = 1;
    let whole = 0;
    let decimals = 0;
    if (length <= longest) {
      if (bytes[at] === 45) {
        sign = -1;
        at++;
      } else if (bytes[at] === 43) at++;
      let digit = bytes[at] - 48;
      while (at < end && digit >= 0 && digit <= 9) {
        whole = 10 * whole + digit;
        digits++;
        digit = bytes[++at] - 48;
      }
      if (at < end && (bytes[at] === 46 || bytes[at] === comma)) {
        digit = bytes[++at] - 48;
        while (at < end && digit >= 0 && digit <= 9) {
          whole = 10 * whole + digit;
          decimals++;
          digit = bytes[++at] - 48;
        }
      }
    }
    numbers[row] =
      at === end && digits + decimals > 0
        ? (sign * whole) / powersOfTen[decimals]
        : parseNumber(text(row).trim(), decimal);
  }
  return numbers;
}
