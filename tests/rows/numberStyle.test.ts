import fc from "fast-check";
import { expect, it } from "vitest";
import { fixed, grouped, type NumberStyle, styledNumbers } from "../../src/rows/index.js";

const comma: NumberStyle = { decimal: "comma", thousands: "thin-space" };
const raised: NumberStyle = { decimal: "raised", thousands: "comma" };

it("changes the signs of numbers, and nothing else of a text", () => {
  expect(styledNumbers("−1.82 D (−2.38 to −1.63), n = 20,000; p <0.0001.", comma)).toBe(
    "−1,82 D (−2,38 to −1,63), n = 20\u2009000; p <0,0001.",
  );
  expect(styledNumbers("±0.50 D of 1,234,567.5", raised)).toBe("±0·50 D of 1,234,567·5");
  // versions, paths, years in a row and what is joined to letters
  const others =
    "Meridional 0.1.0; 10.1136/bmjopen; report-2.1.csv; 1986, 1999; J0.5x; 71ca1.76e; 3.";
  expect(styledNumbers(others, comma)).toBe(others);
});

it("can be undone: no number is lost or joined to another", () => {
  const number = fc
    .double({ min: -1e7, max: 1e7, noNaN: true })
    .map((value) => grouped(fixed(value, 2)));
  fc.assert(
    fc.property(fc.array(number, { minLength: 1 }), (numbers) => {
      const text = numbers.join(" to ");
      const undone = styledNumbers(text, comma).replaceAll(",", ".").replaceAll("\u2009", ",");
      expect(undone).toBe(text);
    }),
  );
});
