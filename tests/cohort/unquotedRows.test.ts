import { parse } from "csv-parse/sync";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { unquotedRows } from "../../src/cohort/read/unquotedRows.js";

/** What the library makes of the same text. */
function byLibrary(text: string, delimiter: string) {
  const parsed = parse(text, {
    bom: true,
    relax_column_count: true,
    relax_quotes: true,
    delimiter,
    info: true,
    skip_empty_lines: true,
  }) as unknown as { record: string[]; info: { lines: number } }[];
  return {
    records: parsed.map(({ record }) => record),
    lines: parsed.map(({ info }) => info.lines),
  };
}

describe("rows of a text without quotes", () => {
  it("are those of a CSV parser, with their lines", () => {
    const cell = fc.constantFrom("", " ", "a", "1.25", "−0.5", "x y", "é");
    const line = fc.array(cell, { minLength: 1, maxLength: 4 });
    const text = fc.record({
      lines: fc.array(line, { minLength: 1, maxLength: 6 }),
      delimiter: fc.constantFrom(",", ";", "\t"),
      end: fc.constantFrom("\n", "\r\n", "\r"),
      last: fc.constantFrom("", "end", "empty"),
      start: fc.constantFrom("", "\ufeff"),
    });
    fc.assert(
      fc.property(text, ({ lines, delimiter, end, last, start }) => {
        const tail = { "": "", end, empty: end + end }[last] ?? "";
        const whole = start + lines.map((cells) => cells.join(delimiter)).join(end) + tail;
        expect(unquotedRows(whole, delimiter)).toEqual(byLibrary(whole, delimiter));
      }),
      { seed: 20261201, numRuns: 500 },
    );
  });

  it("are none where there is a quote, or a line that has no end", () => {
    expect(unquotedRows('a,b\n"1",2\n', ",")).toBe(null);
    expect(unquotedRows(`a\n${"1".repeat(1_000_001)}\n`, ",")).toBe(null);
  });
});
