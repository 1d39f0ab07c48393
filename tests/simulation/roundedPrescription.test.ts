import fc from "fast-check";
import { expect, test } from "vitest";
import { accommodationShift } from "../../src/simulation/accommodationShift.js";
import { resolveParameters } from "../../src/simulation/resolveParameters.js";
import { j0Of, j45Of, writePrescription } from "../../src/simulation/roundedPrescription.js";

const dioptres = (limit: number) => fc.double({ min: -limit, max: limit, noNaN: true });

test("a written prescription is the vector's lens, rounded", () => {
  fc.assert(
    fc.property(dioptres(10), dioptres(3), dioptres(3), (M, J0, J45) => {
      const out = new Float64Array(3);
      writePrescription(out, 0, M, J0, J45, 0.25);
      const [sphere, cylinder, axis] = out;
      // By the symmetric power matrix [[M + J0, J45], [J45, M - J0]]: its eigenvalues are the
      // principal powers, the larger one along the minus cylinder's axis.
      const spread = Math.hypot(J0, J45);
      expect(Math.abs(sphere - (M + spread))).toBeLessThanOrEqual(0.125 + 1e-12);
      expect(Math.abs(cylinder + 2 * spread)).toBeLessThanOrEqual(0.125 + 1e-12);
      expect(cylinder).toBeLessThanOrEqual(0);
      if (cylinder === 0) {
        expect(axis).toBeNaN();
        expect(j0Of(cylinder, axis)).toBe(0);
        return;
      }
      expect(axis).toBeGreaterThan(0);
      expect(axis).toBeLessThanOrEqual(180);
      const along = (meridian: number) => {
        const angle = (meridian * Math.PI) / 180;
        const [x, y] = [Math.cos(angle), Math.sin(angle)];
        return (M + J0) * x * x + 2 * J45 * x * y + (M - J0) * y * y;
      };
      // A whole degree away from the true axis costs at most spread (1 - cos 1°).
      expect(M + spread - along(axis)).toBeLessThanOrEqual(spread * 1.6e-4 + 1e-12);
      const angle = (axis * Math.PI) / 90;
      expect(j0Of(cylinder, axis)).toBeCloseTo((-cylinder / 2) * Math.cos(angle), 12);
      expect(j45Of(cylinder, axis)).toBeCloseTo((-cylinder / 2) * Math.sin(angle), 12);
    }),
  );
});

test("J45 negated would be caught", () => {
  const out = new Float64Array(3);
  writePrescription(out, 0, 1.25, 0.375, 0.6495, 0.25);
  // Trade brief, PV05: +2.00/-1.50x30 has the vector 1.25, 0.375, 0.6495.
  expect(Array.from(out)).toEqual([2, -1.5, 30]);
  writePrescription(out, 0, 1.25, 0.375, -0.6495, 0.25);
  expect(out[2]).toBe(150);
});

test("the shift of accommodation is -(a0 + a1 max(0, M - m0)), between young and school age", () => {
  const { handheld, accommodation } = resolveParameters("complete");
  const shift = (M: number, years: number) => accommodationShift(M, years, handheld, accommodation);
  expect(shift(-5, 2)).toBeCloseTo(-handheld.youngBase, 12);
  expect(shift(handheld.schoolFrom + 2, 12)).toBeCloseTo(
    -handheld.schoolBase - 2 * handheld.schoolSlope,
    12,
  );
  // Halfway between the two ages each constant is halfway: at M far below m0 only a0 is left.
  expect(shift(-5, 5)).toBeCloseTo(-(handheld.youngBase + handheld.schoolBase) / 2, 12);
});
