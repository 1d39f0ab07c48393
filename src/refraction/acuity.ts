import { InputError } from "../results/index.js";

/**
 * A Snellen fraction as logMAR, `log10(denominator / numerator)`: 0 at 6/6 or 20/20, 1 at 6/60 or
 * 20/200; lower is better.
 *
 * @param fraction such as "20/40" or "6/7.5"; the distance may be any, and so may the unit
 * @throws when it is not a fraction of two positive numbers; finger counting and light perception
 * have no logMAR
 *
 * @example
 * snellenToLogMAR("20/40") // => 0.301
 * snellenToLogMAR("6/5") // => -0.0792
 */
export function snellenToLogMAR(fraction: string): number {
  const parts = /^\s*(\d+(?:[.,]\d+)?)\s*\/\s*(\d+(?:[.,]\d+)?)\s*$/.exec(fraction);
  const [numerator, denominator] = (parts ?? [])
    .slice(1)
    .map((part) => Number(part.replace(",", ".")));
  if (!(numerator > 0 && denominator > 0)) {
    throw new InputError(
      `snellenToLogMAR requires a fraction of two positive numbers, got ${JSON.stringify(fraction)}`,
    );
  }
  return Math.log10(denominator / numerator) + 0;
}

/**
 * A logMAR value as Snellen fraction at a stated distance, the denominator to one decimal. No
 * chart line is chosen: 0.1 logMAR at 20 feet is "20/25.2", whose line is called 20/25.
 *
 * @param logMAR a finite number
 * @param options `numerator`: the distance, 6 (metres) or 20 (feet); required, never guessed
 * @throws when the value is not finite or outside -1 to 3, or the numerator not positive
 *
 * @example
 * logMARToSnellen(0.1, { numerator: 20 }) // => "20/25.2"
 * logMARToSnellen(1, { numerator: 6 }) // => "6/60"
 */
export function logMARToSnellen(logMAR: number, options: { readonly numerator: number }): string {
  if (!(logMAR >= -1 && logMAR <= 3)) {
    throw new InputError(`logMARToSnellen requires a logMAR from -1 to 3, got ${logMAR}`);
  }
  const { numerator } = options;
  if (!(numerator > 0 && Number.isFinite(numerator))) {
    throw new InputError(`logMARToSnellen requires a positive numerator, got ${numerator}`);
  }
  return `${numerator}/${Number((numerator * 10 ** logMAR).toFixed(1))}`;
}

/**
 * Decimal acuity as logMAR, `-log10(decimal)`.
 *
 * @param decimal decimal acuity, above 0
 * @throws when it is not a positive number
 *
 * @example
 * decimalToLogMAR(0.5) // => 0.301
 */
export function decimalToLogMAR(decimal: number): number {
  if (!(decimal > 0 && Number.isFinite(decimal))) {
    throw new InputError(`decimalToLogMAR requires a positive acuity, got ${decimal}`);
  }
  return -Math.log10(decimal) + 0;
}

/**
 * logMAR as decimal acuity, `10^-logMAR`.
 *
 * @param logMAR a finite number
 * @throws when the value is outside -1 to 3
 *
 * @example
 * logMARToDecimal(1) // => 0.1
 */
export function logMARToDecimal(logMAR: number): number {
  if (!(logMAR >= -1 && logMAR <= 3)) {
    throw new InputError(`logMARToDecimal requires a logMAR from -1 to 3, got ${logMAR}`);
  }
  return 10 ** -logMAR;
}
