import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  formatPrescription,
  parsePrescription,
  readPrescription,
} from "../../src/refraction/index.js";
import { InputError } from "../../src/results/index.js";
import { wrong } from "../builders/wrong.js";

/** What charts and exports contain: forms named in the project's requirements; common practice, no source. */
const read: [string, number, number, number | null][] = [
  ["+1.25 -0.50 x 180", 1.25, -0.5, 180],
  ["+1.25/-0.50x5", 1.25, -0.5, 5],
  ["pl -0.75 x 090", 0, -0.75, 90],
  ["pl -0.75x90", 0, -0.75, 90],
  ["PL/-0.75X090", 0, -0.75, 90],
  ["plano", 0, 0, null],
  ["Plano", 0, 0, null],
  ["plano -1.00 x 5", 0, -1, 5],
  ["-2.00 DS", -2, 0, null],
  ["-2.00DS", -2, 0, null],
  ["+2.00 sph", 2, 0, null],
  ["+2.00 Sphere", 2, 0, null],
  ["-2.00", -2, 0, null],
  ["-2", -2, 0, null],
  ["-.50", -0.5, 0, null],
  ["0.00", 0, 0, null],
  ["0", 0, 0, null],
  ["+1.25 -0.50 X 180", 1.25, -0.5, 180],
  ["+1.25 −0.50 × 180", 1.25, -0.5, 180],
  ["+1.25 – 0.50 x 7", 1.25, -0.5, 7],
  ["+ 1,25 - 0,50 ax 180°", 1.25, -0.5, 180],
  ["+1,25 -0,50 x 12", 1.25, -0.5, 12],
  ["+1.25, -0.50 x 12", 1.25, -0.5, 12],
  ["+1.25-0.50x180", 1.25, -0.5, 180],
  ["+1.25 D -0.50 D axis 180 deg", 1.25, -0.5, 180],
  ["+1.25 DS / -0.50 DC x 12", 1.25, -0.5, 12],
  ["+1.25 -0.50 12", 1.25, -0.5, 12],
  ["+1.25/-0.50/12", 1.25, -0.5, 12],
  ["-3.00 +2.00 x 60", -3, 2, 60],
  ["-3.00 0.00", -3, 0, null],
  ["-3.00 +0.00 x 60", -3, 0, 60],
  ["-3.00 / 0.00 / 60", -3, 0, 60],
  ["+1.00 -0.50 x 000", 1, -0.5, 180],
  ["+1.00 -0.50 x 12.5", 1, -0.5, 12.5],
  ["  +1.00   -0.50 x\u00a05 ", 1, -0.5, 5],
  ["＋1.00 －0.50 ｘ 5", 1, -0.5, 5],
  ["+3.25 -1.00 @ 175", 3.25, -1, 175],
  ["+3.25 -1.00 ax 175", 3.25, -1, 175],
  ["+3.25 -1.00 ax. 175", 3.25, -1, 175],
  ["+3.25 -1.00 * 175", 3.25, -1, 175],
  ["+3.25/-1.00@175°", 3.25, -1, 175],
  ["+3.25 -1.00 x 175 degrees", 3.25, -1, 175],
  ["+3.25 sph -1.00 cyl x 175", 3.25, -1, 175],
  ["sph +3.25 cyl -1.00 axis 175", 3.25, -1, 175],
  ["S: +3.25 / C: -1.00 / axis: 175", 3.25, -1, 175],
  ["+3.25 / -1.00 / 175", 3.25, -1, 175],
  ["sph+3.25 cyl-1.00 axis175", 3.25, -1, 175],
  ["+3.25 -1.00 axis : 175", 3.25, -1, 175],
];

const refused: [string, RegExp][] = [
  ["+1.00 -0.50 x 181", /an axis from 0 to 180 degrees, got axis 181$/],
  ["+1.00 -0.50 x -5", /an axis from 0 to 180 degrees, got axis -5$/],
  ["+1.00 -0.50", /an axis with the cylinder "-0.50", got none$/],
  ["12.5 x 90", /got one number "12.5", which could be either$/],
  ["-0.75 x 90", /got one number "-0.75", which could be either$/],
  ["+1.00 DS x 90", /a cylinder before the axis, got axis 90/],
  ["plano x 90", /a cylinder before the axis, got axis 90/],
  ["1.25 -0.50 x 180", /a sign on the sphere, got "1.25"$/],
  ["+1.25 0.50 x 180", /a sign on the cylinder, got "0.50"$/],
  ["+1.25/0.50x180", /a sign on the cylinder, got "0.50"$/],
  ["2.00", /a sign on the sphere/],
  ["+1.00 90", /a sign on the cylinder, got "90"$/],
  ["+41.00 DS", /a sphere from -40 to 40 D, got 41$/],
  ["+1.00 -20.25 x 5", /a cylinder from -20 to 20 D, got -20.25$/],
  ["+125 -050 x 180", /a sphere from -40 to 40 D, got 125$/],
  ["", /got an empty text$/],
  ["   ", /got an empty text$/],
  ["no target", /a sphere first, got "no target"$/],
  ["x 90", /a sphere first/],
  ["-0.50 x", /nothing after the prescription, got "x"$/],
  ["+1.00 -0.50 x 90 add +2.00", /nothing after the prescription, got "add \+2.00"$/],
  ["+1.00 -0.50 x 90 x 90", /nothing after the prescription/],
  ["+1.0.0", /a sphere first/],
  ["+1.00 -0.50.180", /nothing after the prescription/],
  ["--1.00", /a sphere first/],
  // a sphere's word is read as such where it stands alone, and an axis keeps its word
  ["leftsph +1.00", /a sphere first, got "leftsph \+1.00"$/],
  ["+1.00 0.50 axis: 180", /a sign on the cylinder, got "0.50"$/],
  // 24 characters are quoted whole, more are cut
  ["a".repeat(24), /got "a{24}"$/],
  ["a".repeat(25), /got "a{24}…"$/],
  ["+1.00 -0.50 x 9 0", /nothing after the prescription, got "0"$/],
];

describe("parsePrescription", () => {
  test.each(read)("reads %j", (text, sphere, cylinder, axis) => {
    expect(parsePrescription(text)).toEqual({ sphere, cylinder, axis });
  });

  test.each(refused)("refuses %j", (text, message) => {
    expect(() => parsePrescription(text)).toThrow(InputError);
    expect(() => parsePrescription(text)).toThrow(message);
  });

  test("refuses what is not text", () => {
    expect(() => parsePrescription(wrong(null))).toThrow(/requires text, got null$/);
    expect(() => parsePrescription(wrong(2))).toThrow(/requires text, got number$/);
  });

  test("any text is read or refused by an InputError", () => {
    const pieces = fc.constantFrom(..."+-−.,/x× 0123456789°dspl@a".split(""));
    fc.assert(
      fc.property(fc.array(pieces, { maxLength: 20 }), (characters) => {
        try {
          const { sphere, cylinder, axis } = parsePrescription(characters.join(""));
          return (
            Math.abs(sphere) <= 40 && Math.abs(cylinder) <= 20 && (cylinder === 0 || axis! > 0)
          );
        } catch (error) {
          return error instanceof InputError;
        }
      }),
      { numRuns: 3000 },
    );
  });
});

describe("readPrescription", () => {
  test.each([
    ["+3.25 -1.00 x ?", 'nothing after the prescription, got "x ?"'],
    ["+3.25 -1.00 @", 'nothing after the prescription, got "x"'],
    ["+3.25 -1.00", 'an axis with the cylinder "-1.00", got none'],
    ["+3.25 -1.00 x 190", "an axis from 0 to 180 degrees, got axis 190"],
  ])("keeps sphere and cylinder of %j", (text, axisFault) => {
    const prescription = { sphere: 3.25, cylinder: -1, axis: null };
    expect(readPrescription(text)).toEqual({ prescription, axisFault });
    expect(() => parsePrescription(text)).toThrow(axisFault);
  });
  test.each(["+1.00 -0.50 x 90 add +2.00", "12.5 x 90", "-0.50 x"])(
    "refuses %j, where more than the axis is unclear",
    (text) => expect(() => readPrescription(text)).toThrow(InputError),
  );
});

describe("formatPrescription", () => {
  test.each([
    [{ sphere: 1.25, cylinder: -0.5, axis: 0 }, {}, "+1.25 -0.50 x 180"],
    [{ sphere: 0, cylinder: -0.5, axis: 5 }, {}, "+0.00 -0.50 x 005"],
    [{ sphere: -2, cylinder: 0, axis: null }, {}, "-2.00 DS"],
    [{ sphere: 0, cylinder: 0, axis: null }, {}, "+0.00 DS"],
    [{ sphere: 1.125, cylinder: -0.5, axis: 12.5 }, {}, "+1.125 -0.50 x 012.5"],
    [{ sphere: -3, cylinder: 2, axis: 60 }, { cylinder: "minus" }, "-1.00 -2.00 x 150"],
    [{ sphere: -1, cylinder: -2, axis: 150 }, { cylinder: "plus" }, "-3.00 +2.00 x 060"],
    [{ sphere: -1.13, cylinder: -0.12, axis: 179.6 }, { step: 0.25 }, "-1.25 DS"],
    [{ sphere: -1.13, cylinder: -0.13, axis: 179.6 }, { step: 0.25 }, "-1.25 -0.25 x 180"],
    [{ sphere: -1.13, cylinder: -0.38, axis: 0.4 }, { step: 0.12 }, "-1.12 -0.37 x 180"],
    [{ sphere: -1.134, cylinder: -0.386, axis: 90 }, { step: 0.01 }, "-1.13 -0.39 x 090"],
    [{ sphere: 0.25, cylinder: 0, axis: null }, { step: 0.12 }, "+0.25 DS"],
    [{ sphere: -0.1, cylinder: 0, axis: null }, { step: 0.25 }, "+0.00 DS"],
    [{ sphere: 1 - 1e-13, cylinder: 0, axis: null }, {}, "+1.00 DS"],
    [{ sphere: 1, cylinder: -1, axis: 2e-8 }, {}, "+1.00 -1.00 x 000.00000002"],
    [{ sphere: 1, cylinder: -1, axis: 100 }, {}, "+1.00 -1.00 x 100"],
  ] as const)("%j with %j", (prescription, options, text) => {
    expect(formatPrescription(prescription, options)).toBe(text);
  });

  test("parsing is its inverse for any axis, however close to 0", () => {
    for (const axis of [1e-9, 3e-8, 4.5e-7, 1e-6, 0.1, 10, 20.05, 100, 179.999999999]) {
      const text = formatPrescription({ sphere: 1, cylinder: -0.5, axis });
      expect(parsePrescription(text)).toEqual({ sphere: 1, cylinder: -0.5, axis });
    }
  });

  test("parsing is its inverse in either cylinder sign", () => {
    const hundredths = (limit: number) =>
      fc.integer({ min: -100 * limit, max: 100 * limit }).map((value) => value / 100);
    fc.assert(
      fc.property(
        hundredths(20),
        hundredths(20),
        fc.integer({ min: 1, max: 180 }),
        (sphere, cylinder, axis) => {
          const lens = { sphere, cylinder, axis };
          expect(parsePrescription(formatPrescription(lens))).toEqual({
            sphere: sphere + 0,
            cylinder: cylinder + 0,
            axis,
          });
          const minus = formatPrescription(lens, { cylinder: "minus" });
          const plus = formatPrescription(lens, { cylinder: "plus" });
          expect(parsePrescription(minus).cylinder).toBeLessThanOrEqual(0);
          expect(formatPrescription(parsePrescription(plus), { cylinder: "minus" })).toBe(minus);
        },
      ),
    );
  });
});
