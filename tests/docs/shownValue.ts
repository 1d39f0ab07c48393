import { expect } from "vitest";

interface ShownNumber {
  readonly shownNumber: number;
  /** Half a unit of the last digit written. */
  readonly tolerance: number;
}

/** The value written after `// =>`: a literal whose numbers know how many digits were written. */
export function shownValue(text: string): unknown {
  const token =
    /"(?:[^"\\]|\\.)*"|'(?:[^'\\]|\\.)*'|(?<![\w$.])-?\d+(?:\.\d+)?(?:e[-+]?\d+)?|\.{3}/gi;
  const code = text.replace(token, (part) => {
    if (part === "...") return "$partial: true";
    return /^["']/.test(part) ? part : `number(${JSON.stringify(part)})`;
  });
  return new Function("number", `return (${code});`)(shownNumber);
}

function shownNumber(text: string): ShownNumber {
  const [mantissa, exponent = "0"] = text.toLowerCase().split("e");
  const decimals = mantissa!.split(".")[1]?.length ?? 0;
  // a written integer is meant exactly, apart from rounding errors of the arithmetic
  const tolerance =
    decimals === 0 && exponent === "0" ? 1e-9 : 0.5001 * 10 ** (Number(exponent) - decimals);
  return { shownNumber: Number(text), tolerance };
}

/** Fails unless the value is the shown one, numbers after rounding to the digits written. */
export function expectShown(actual: unknown, shown: unknown): void {
  if (isNumber(shown)) {
    expect(typeof actual).toBe("number");
    expect(
      Math.abs((actual as number) - shown.shownNumber),
      `${actual} and ${shown.shownNumber}`,
    ).toBeLessThanOrEqual(shown.tolerance);
  } else if (Array.isArray(shown)) {
    const list = Array.from(actual as ArrayLike<unknown>);
    expect(list.length).toBe(shown.length);
    for (const [index, item] of shown.entries()) expectShown(list[index], item);
  } else if (typeof shown === "object" && shown !== null) {
    const { $partial, ...members } = shown as { $partial?: true } & Record<string, unknown>;
    expect(actual).toBeTypeOf("object");
    const given = actual as Record<string, unknown>;
    if (!$partial) {
      const keys = Object.keys(given).filter((key) => given[key] !== undefined);
      expect(keys.sort()).toEqual(Object.keys(members).sort());
    }
    for (const [key, item] of Object.entries(members)) expectShown(given[key], item);
  } else expect(actual).toBe(shown);
}

function isNumber(value: unknown): value is ShownNumber {
  return typeof value === "object" && value !== null && "shownNumber" in value;
}
