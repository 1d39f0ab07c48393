import { describe, expect, test } from "vitest";
import {
  astigmatismOrientation,
  atVertex,
  blurStrength,
  decimalToLogMAR,
  formatPrescription,
  interocularDifference,
  logMARToDecimal,
  logMARToSnellen,
  meridionalPower,
  mirrorEye,
  type Prescription,
  pupilDifference,
  roundToStep,
  snellenToLogMAR,
  sphericalEquivalent,
  toPowerMatrix,
  toPowerVector,
  toPrescription,
  transpose,
} from "../../src/refraction/index.js";
import { InputError } from "../../src/results/index.js";
import { wrong } from "../builders/wrong.js";

const takesPrescription: Record<string, (rx: Prescription) => unknown> = {
  toPowerVector,
  transpose,
  formatPrescription,
  toPowerMatrix,
  astigmatismOrientation,
  meridionalPower: (rx) => meridionalPower(rx, 0),
  atVertex: (rx) => atVertex(rx, { fromMm: 12, toMm: 0 }),
  interocularDifference: (rx) =>
    interocularDifference({ right: { sphere: 0, cylinder: 0, axis: null }, left: rx }),
};

const impossible: readonly (readonly [Prescription, RegExp])[] = [
  [{ sphere: Number.NaN, cylinder: 0, axis: null }, /sphere .* got NaN$/],
  [{ sphere: Number.POSITIVE_INFINITY, cylinder: 0, axis: null }, /sphere .* got Infinity$/],
  [{ sphere: 40.25, cylinder: 0, axis: null }, /a sphere from -40 to 40 D, got 40.25$/],
  [{ sphere: 0, cylinder: Number.NaN, axis: 5 }, /cylinder .* got NaN$/],
  [{ sphere: 0, cylinder: -20.25, axis: 5 }, /a cylinder from -20 to 20 D, got -20.25$/],
  [{ sphere: 0, cylinder: -1, axis: null }, /an axis with the cylinder -1, got none$/],
  [{ sphere: 0, cylinder: -1, axis: 181 }, /an axis from 0 to 180 degrees, got 181$/],
  [{ sphere: 0, cylinder: -1, axis: -5 }, /an axis from 0 to 180 degrees, got -5$/],
  [{ sphere: 0, cylinder: -1, axis: Number.NaN }, /an axis from 0 to 180 degrees, got NaN$/],
  [{ sphere: wrong(undefined), cylinder: 0, axis: null }, /got undefined$/],
  [{ sphere: wrong(null), cylinder: 0, axis: null }, /got null$/],
  [{ sphere: wrong("1.25"), cylinder: 0, axis: null }, /got 1.25$/],
];

describe.each(Object.entries(takesPrescription))("%s", (name, call) => {
  test.each(impossible)("refuses %j", (rx, message) => {
    expect(() => call(rx)).toThrow(InputError);
    expect(() => call(rx)).toThrow(message);
    expect(() => call(rx)).toThrow(new RegExp(`^${name} requires `));
  });

  test("takes a cylinder of 0 without an axis", () => {
    expect(() => call({ sphere: -2, cylinder: 0, axis: null })).not.toThrow();
  });
});

test("an equivalent needs no axis, but sphere and cylinder", () => {
  expect(sphericalEquivalent({ sphere: 1, cylinder: -1, axis: null })).toBe(0.5);
  expect(() => sphericalEquivalent({ sphere: Number.NaN, cylinder: 0 })).toThrow(
    /^sphericalEquivalent requires .* got NaN$/,
  );
});

test.each([
  ["blurStrength", blurStrength],
  ["mirrorEye", mirrorEye],
  ["toPrescription", toPrescription],
])("%s refuses a vector that is not finite", (name, call) => {
  expect(() => call({ M: 1, J0: Number.NaN, J45: 0 })).toThrow(InputError);
  expect(() => call({ M: 1, J0: Number.NaN, J45: 0 })).toThrow(new RegExp(`^${name} .*NaN`));
  expect(() => call({ M: Number.NEGATIVE_INFINITY, J0: 0, J45: 0 })).toThrow(/-Infinity/);
});

describe("astigmatismOrientation", () => {
  // with the rule: minus-cylinder axis near 180 (common practice; a public page has it reversed)
  test.each([
    [-1, 180, "with-the-rule"],
    [-1, 0, "with-the-rule"],
    [-1, 30, "with-the-rule"],
    [-1, 150, "with-the-rule"],
    [-1, 31, "oblique"],
    [-1, 45, "oblique"],
    [-1, 59, "oblique"],
    [-1, 60, "against-the-rule"],
    [-1, 120, "against-the-rule"],
    [-1, 121, "oblique"],
    [1, 90, "with-the-rule"],
    [1, 180, "against-the-rule"],
    [0, 90, "none"],
    [0, null, "none"],
  ] as const)("cylinder %d x %s is %s", (cylinder, axis, orientation) => {
    expect(astigmatismOrientation({ sphere: 1, cylinder, axis })).toBe(orientation);
  });

  test("the tolerance is the caller's", () => {
    const rx = { sphere: 0, cylinder: -1, axis: 20 };
    expect(astigmatismOrientation(rx, { tolerance: 15 })).toBe("oblique");
    expect(astigmatismOrientation(rx, { tolerance: 20 })).toBe("with-the-rule");
    expect(() => astigmatismOrientation(rx, { tolerance: 45 })).toThrow(
      /below 45 degrees, got 45$/,
    );
    expect(() => astigmatismOrientation(rx, { tolerance: 0 })).toThrow(/got 0$/);
  });
});

describe("roundToStep", () => {
  test.each([
    [1.125, 0.25, 1.25],
    [-1.125, 0.25, -1.25],
    [1.12, 0.25, 1],
    [1.005, 0.01, 1.01],
    [-0.1, 0.25, 0],
    [0.3, 0.1, 0.3],
    [0.31, 0.12, 0.25],
    [0.32, 0.12, 0.375],
  ])("%d to steps of %d is %d", (value, step, rounded) => {
    expect(roundToStep(value, step)).toBe(rounded);
  });

  test("refuses a step that is none", () => {
    expect(() => roundToStep(1, 0)).toThrow(InputError);
    expect(() => roundToStep(1, Number.NaN)).toThrow(InputError);
    expect(() => roundToStep(Number.NaN, 0.25)).toThrow(InputError);
  });
});

test("a meridian is a finite number", () => {
  expect(() => meridionalPower({ sphere: 1, cylinder: 0, axis: null }, Number.NaN)).toThrow(
    "meridionalPower requires a finite meridian, got NaN",
  );
});

test("pupils: unsigned, in millimetres", () => {
  expect(pupilDifference({ right: 5.5, left: 6.75 })).toBe(1.25);
  expect(pupilDifference({ right: 6.75, left: 5.5 })).toBe(1.25);
  expect(() => pupilDifference({ right: 0, left: 5 })).toThrow(/got 0 \(right\)$/);
  expect(() => pupilDifference({ right: 5, left: 55 })).toThrow(/got 55 \(left\)$/);
});

describe("acuity", () => {
  // definition: logMAR is the logarithm of the minimum angle of resolution in minutes of arc, 1' at 20/20
  test.each([
    ["20/20", 0],
    ["6/6", 0],
    ["20/200", 1],
    ["6/60", 1],
    ["20/40", Math.log10(2)],
    ["6/7.5", Math.log10(1.25)],
    ["6 / 7,5", Math.log10(1.25)],
    ["6/3", -Math.log10(2)],
    ["3/60", Math.log10(20)],
    ["0.75/6", Math.log10(8)],
    ["6/18.75", Math.log10(3.125)],
  ])("%s", (fraction, logMar) => {
    expect(snellenToLogMAR(fraction)).toBeCloseTo(logMar, 12);
  });

  test.each(["20", "CF", "20/0", "0/20", "-6/6", "20/20/20", "20/40-1", ""])(
    "no fraction: %j",
    (fraction) => {
      expect(() => snellenToLogMAR(fraction)).toThrow(InputError);
    },
  );

  test("back to fractions and decimals", () => {
    expect(logMARToSnellen(0, { numerator: 20 })).toBe("20/20");
    expect(logMARToSnellen(0.3, { numerator: 6 })).toBe("6/12");
    expect(logMARToSnellen(0.1, { numerator: 20 })).toBe("20/25.2");
    expect(logMARToDecimal(1)).toBeCloseTo(0.1, 15);
    // no negative zero
    expect(decimalToLogMAR(1)).toBe(0);
    expect(decimalToLogMAR(0.5)).toBeCloseTo(Math.log10(2), 12);
    expect(decimalToLogMAR(logMARToDecimal(0.42))).toBeCloseTo(0.42, 12);
  });

  test("refuses what is no acuity", () => {
    expect(() => logMARToSnellen(Number.NaN, { numerator: 20 })).toThrow(/got NaN$/);
    expect(() => logMARToSnellen(0, { numerator: 0 })).toThrow(/positive numerator, got 0$/);
    expect(() => logMARToDecimal(3.1)).toThrow(/got 3.1$/);
    expect(() => decimalToLogMAR(0)).toThrow(/got 0$/);
  });
});
