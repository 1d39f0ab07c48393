// Two eyes in one cell. The forms are common practice, no source; the property takes apart what it put together.
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  eyesOfCell,
  formatPrescription,
  parsePrescription,
  twoEyesIn,
} from "../../src/refraction/index.js";

const fault = (text: string, eyes: "marked" | "right-left" = "marked") =>
  eyesOfCell(text, eyes).fault;

describe("each eye with its mark", () => {
  it.each([
    ["R +1.00 -0.50 x 90 / L +1.25 sph", "+1.00 -0.50 x 90", "+1.25 sph"],
    ["OD: +1.00/-0.50x90; OS: plano", "+1.00/-0.50x90", "plano"],
    ["OD +1.00-0.50x90 OS +1.25-0.25x80", "+1.00-0.50x90", "+1.25-0.25x80"],
    ["L+1.25R-0.50", "-0.50", "+1.25"],
    ["(R) +1,25 -0,50 @ 90°, (L) +1,00", "+1,25 -0,50 @ 90°", "+1,00"],
    ["right eye = -2.00 DS | left eye = -1.75 DS", "-2.00 DS", "-1.75 DS"],
    ["+1.00 -0.50 x 90 R, +1.25 L", "+1.00 -0.50 x 90", "+1.25"],
    ["RE -1.00 sph - LE no reading", "-1.00 sph", "no reading"],
    ["O.D. +1.00\nO.S. +0.75", "+1.00", "+0.75"],
    ["OU -0.50 DS", "-0.50 DS", "-0.50 DS"],
    ["OS +1.00", "", "+1.00"],
    ["OD - OS +1.00", "-", "+1.00"],
  ])("%j", (text, right, left) => {
    expect(eyesOfCell(text, "marked")).toEqual({ right, left });
  });

  it("what is not beside one mark is refused, never given to an eye", () => {
    expect(fault("+1.00 -0.50 x 90 / +1.25")).toContain("a mark of the eye");
    expect(fault("R +1.00 R +1.25")).toContain("one prescription an eye, got more");
    expect(fault("OU +1.00 OS +1.25")).toContain("one prescription an eye, got more");
    expect(fault("+1.00 L +1.25")).toContain('"+1.00" without one');
    // "pl", "cyl" and "ax" hold letters of marks, and are none
    expect(fault("pl cyl -1.00 axle 20")).toContain("a mark of the eye");
  });
});

describe("an order that somebody declared", () => {
  it("cuts where both pieces are whole, and there only", () => {
    expect(eyesOfCell("+1.00 -0.50 x 90 / +1.25 -0.25 x 80", "right-left")).toEqual({
      ...{ right: "+1.00 -0.50 x 90", left: "+1.25 -0.25 x 80" },
    });
    expect(eyesOfCell("+1.00/-0.50x90 +1.25/-0.25x80", "left-right")).toEqual({
      ...{ left: "+1.00/-0.50x90", right: "+1.25/-0.25x80" },
    });
    expect(eyesOfCell("NR / +1.25 -0.25 x 80", "right-left")).toEqual({
      ...{ right: "NR", left: "+1.25 -0.25 x 80" },
    });
    expect(eyesOfCell("+1,25; -0,50", "right-left")).toEqual({ right: "+1,25", left: "-0,50" });
  });
  it("refuses one prescription, and three", () => {
    expect(fault("+1.00 -0.50 x 90", "right-left")).toContain("got none");
    expect(fault("+1.00 / +1.25 / +1.50", "right-left")).toContain("one place");
  });
});

it("tells the two forms from one prescription and from words", () => {
  expect(twoEyesIn("R +1.00 L +1.25")).toBe("marked");
  expect(twoEyesIn("+1.00 -0.50 x 90 / +1.25 sph")).toBe("ordered");
  for (const text of [
    "+1.00 -0.50 x 90",
    "+1.00/-0.50",
    "R +1.00",
    "L2 R4",
    "left 2 of 3",
    "12/05/2026",
  ])
    expect([text, twoEyesIn(text)]).toEqual([text, null]);
});

const quarter = (low: number, high: number) =>
  fc.integer({ min: low * 4, max: high * 4 }).map((quarters) => quarters / 4);
const prescription = fc
  .record({
    sphere: quarter(-9, 9),
    cylinder: quarter(-4, 0),
    axis: fc.integer({ min: 1, max: 180 }),
  })
  .map(({ sphere, cylinder, axis }) => ({ sphere, cylinder, axis: cylinder === 0 ? null : axis }));

it("gives back what was written, whatever marks and signs stand around it", () => {
  fc.assert(
    fc.property(
      prescription,
      prescription,
      fc.constantFrom(["R ", "L "], ["OD: ", "OS: "], ["re=", "le="], ["Right ", "Left "]),
      fc.constantFrom(" / ", "; ", " ", "\n", " | ", ", "),
      fc.boolean(),
      (right, left, [r, l], sign, swapped) => {
        const parts = [`${r}${formatPrescription(right)}`, `${l}${formatPrescription(left)}`];
        if (swapped) parts.reverse();
        const found = eyesOfCell(parts.join(sign), "marked");
        if (found.fault !== undefined) throw new Error(found.fault);
        expect(parsePrescription(found.right)).toEqual(right);
        expect(parsePrescription(found.left)).toEqual(left);
      },
    ),
  );
});
