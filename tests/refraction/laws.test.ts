import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  addPrescriptions,
  atVertex,
  averagePrescriptions,
  blurStrength,
  fromPowerMatrix,
  interocularDifference,
  meridionalPower,
  mirrorEye,
  type PowerVector,
  type Prescription,
  toPowerMatrix,
  toPowerVector,
  toPrescription,
  transpose,
} from "../../src/refraction/index.js";
import {
  eigenvalues,
  type Matrix,
  matrixMean,
  matrixOf,
  mirrored,
  movedMatrix,
  quadraticForm,
  sum,
  vectorOf,
} from "./matrixAlone.js";

const power = (limit: number) => fc.double({ min: -limit, max: limit, noNaN: true });
const lens: fc.Arbitrary<Prescription> = fc.record({
  sphere: power(18),
  cylinder: power(8),
  axis: fc.oneof(fc.integer({ min: 0, max: 180 }), fc.double({ min: 0, max: 180, noNaN: true })),
});
const vector: fc.Arbitrary<PowerVector> = fc.record({ M: power(15), J0: power(5), J45: power(5) });

/** Powers here stay below 30 D, so that 1e-12 is about 140 units in the last place. */
const close = (a: number, b: number, tolerance = 1e-12) => Math.abs(a - b) <= tolerance;
const sameVector = (a: PowerVector, b: PowerVector, tolerance?: number) =>
  close(a.M, b.M, tolerance) && close(a.J0, b.J0, tolerance) && close(a.J45, b.J45, tolerance);
const sameMatrix = (a: Matrix, b: Matrix, tolerance?: number) =>
  [0, 1].every((row) => [0, 1].every((column) => close(a[row][column], b[row][column], tolerance)));

type Vectors = (prescription: Prescription) => PowerVector;

/** The laws that tie the vector to the matrix, for any way of making vectors. */
const vectorLaws: Record<string, (toVector: Vectors) => fc.IProperty<[Prescription]>> = {
  "the vector is that of the matrix": (toVector) =>
    fc.property(lens, (rx) => sameVector(toVector(rx), vectorOf(matrixOf(rx)))),
  "power along a meridian is the quadratic form of the matrix": (toVector) =>
    fc.property(lens, (rx) =>
      [0, 17, 45, 90, 133.3].every((meridian) => {
        const { M, J0, J45 } = toVector(rx);
        const doubled = (meridian * Math.PI) / 90;
        const found = M + J0 * Math.cos(doubled) + J45 * Math.sin(doubled);
        return close(found, quadraticForm(matrixOf(rx), meridian));
      }),
    ),
};

describe("vectors against the 2x2 matrix alone", () => {
  test.each(Object.keys(vectorLaws))("%s", (name) => {
    fc.assert(vectorLaws[name](toPowerVector), { numRuns: 1000 });
  });

  test.each(Object.keys(vectorLaws))("with J45 negated it fails: %s", (name) => {
    const negated: Vectors = (rx) => {
      const { M, J0, J45 } = toPowerVector(rx);
      return { M, J0, J45: -J45 };
    };
    expect(fc.check(vectorLaws[name](negated), { numRuns: 1000 }).failed).toBe(true);
  });

  test.each(Object.keys(vectorLaws))("with J0 negated it fails: %s", (name) => {
    const negated: Vectors = (rx) => {
      const { M, J0, J45 } = toPowerVector(rx);
      return { M, J0: -J0, J45 };
    };
    expect(fc.check(vectorLaws[name](negated), { numRuns: 1000 }).failed).toBe(true);
  });
});

const law = <Values>(name: string, property: fc.IProperty<Values>) =>
  test(name, () => fc.assert(property, { numRuns: 1000 }));

/** On the half circle, where 0 and 180 are one axis. */
function axesApart(a: number, b: number): number {
  return Math.min(Math.abs(a - b), 180 - Math.abs(a - b));
}

describe("laws of one eye", () => {
  law(
    "transposing twice is the same lens, the axis in (0, 180]",
    fc.property(lens, (rx) => {
      const twice = transpose(transpose(rx));
      return (
        close(twice.sphere, rx.sphere) &&
        close(twice.cylinder, rx.cylinder, 0) &&
        axesApart(twice.axis!, rx.axis!) <= 1e-12 &&
        twice.axis! > 0 &&
        twice.axis! <= 180
      );
    }),
  );
  law(
    "both cylinder signs give one vector, and one matrix",
    fc.property(
      lens,
      (rx) =>
        sameVector(toPowerVector(rx), toPowerVector(transpose(rx)), 1e-12) &&
        sameMatrix(matrixOf(rx), matrixOf(transpose(rx))),
    ),
  );
  law(
    "vector to prescription and back within 1e-12, in both cylinder signs",
    fc.property(vector, fc.constantFrom("minus" as const, "plus" as const), (given, cylinder) => {
      const rx = toPrescription(given, { cylinder });
      const signed = cylinder === "minus" ? rx.cylinder <= 0 : rx.cylinder >= 0;
      const within = rx.axis === null ? rx.cylinder === 0 : rx.axis > 0 && rx.axis <= 180;
      return signed && within && sameVector(toPowerVector(rx), given);
    }),
  );
  test("an axis that rounding would carry beyond 180 is 180", () => {
    // found by the law above
    const given = { M: 0, J0: -5e-13, J45: -3.942992473449146e-28 };
    expect(toPrescription(given, { cylinder: "plus" }).axis).toBe(180);
  });
  law(
    "the matrix is that of the test, its trace 2M, its eigenvalues the principal powers",
    fc.property(lens, (rx) => {
      const matrix = toPowerMatrix(rx);
      const [low, high] = eigenvalues(matrix);
      const powers = [rx.sphere, rx.sphere + rx.cylinder].sort((a, b) => a - b);
      return (
        sameMatrix(matrix, matrixOf(rx)) &&
        close(matrix[0][0] + matrix[1][1], 2 * toPowerVector(rx).M) &&
        close(low, powers[0]) &&
        close(high, powers[1])
      );
    }),
  );
  law(
    "matrix and back is the same matrix",
    fc.property(lens, (rx) =>
      sameMatrix(matrixOf(fromPowerMatrix(toPowerMatrix(rx))), matrixOf(rx)),
    ),
  );
  law(
    "meridional power is the quadratic form of the matrix",
    fc.property(lens, power(400), (rx, meridian) =>
      // 400 degrees in radians cost the oracle a few more digits than the reduced angle
      close(meridionalPower(rx, meridian), quadraticForm(matrixOf(rx), meridian), 1e-11),
    ),
  );
  law(
    "axis 0 and 180 are one lens, to the last bit",
    fc.property(lens, (rx) => {
      const zero = toPowerVector({ ...rx, axis: 0 });
      const half = toPowerVector({ ...rx, axis: 180 });
      return zero.M === half.M && zero.J0 === half.J0 && zero.J45 === half.J45;
    }),
  );
  law(
    "vertex there and back is the same lens",
    fc.property(lens, fc.double({ min: 0, max: 16, noNaN: true }), (rx, fromMm) => {
      const there = atVertex(rx, { fromMm, toMm: 0 });
      const back = atVertex(there, { fromMm: 0, toMm: fromMm });
      // powers of up to 26 D at 16 mm grow to 44 D, outside what a prescription may hold
      return close(back.sphere, rx.sphere, 1e-11) && close(back.cylinder, rx.cylinder, 1e-11);
    }),
  );
  law(
    "vertex is the matrix F (I - dF)^-1",
    fc.property(lens, fc.double({ min: 0, max: 16, noNaN: true }), (rx, fromMm) => {
      const moved = atVertex(rx, { fromMm, toMm: 0 });
      return sameMatrix(matrixOf(moved), movedMatrix(matrixOf(rx), fromMm / 1000), 1e-11);
    }),
  );
  law(
    "mirroring twice is the same eye; mirroring is the axis 180 - A, and the matrix seen from behind",
    fc.property(lens, (rx) => {
      const given = toPowerVector(rx);
      const once = mirrorEye(given);
      const twice = mirrorEye(once);
      return (
        sameVector(twice, given, 0) &&
        sameVector(once, toPowerVector({ ...rx, axis: 180 - rx.axis! })) &&
        sameVector(once, vectorOf(mirrored(matrixOf(rx))))
      );
    }),
  );
  law(
    "blur strength is the Frobenius norm of the matrix over the root of 2, mirrored or not",
    fc.property(lens, (rx) => {
      const [[xx, xy], [yx, yy]] = matrixOf(rx);
      const norm = Math.sqrt((xx ** 2 + xy ** 2 + yx ** 2 + yy ** 2) / 2);
      const given = toPowerVector(rx);
      return close(blurStrength(given), norm) && close(blurStrength(mirrorEye(given)), norm);
    }),
  );
});

describe("laws of several lenses", () => {
  const lenses = fc.array(lens, { minLength: 1, maxLength: 6 });
  law(
    "the mean of vectors is the mean of matrices",
    fc.property(lenses, (list) =>
      sameMatrix(matrixOf(averagePrescriptions(list)), matrixMean(list.map(matrixOf))),
    ),
  );
  law(
    "the sum of vectors is the sum of matrices, in any order",
    fc.property(fc.array(lens, { minLength: 1, maxLength: 2 }), (list) => {
      const total = list.map(matrixOf).reduce(sum);
      const reversed = [...list].reverse();
      return (
        sameMatrix(matrixOf(addPrescriptions(list)), total) &&
        sameMatrix(matrixOf(addPrescriptions(reversed, { cylinder: "plus" })), total)
      );
    }),
  );
  law(
    "the greatest meridional difference is the largest found by looking along 1800 meridians",
    fc.property(lens, lens, (right, left) => {
      const [F, G] = [matrixOf(right), matrixOf(left)];
      let most = 0;
      for (let step = 0; step < 1800; step += 1) {
        const meridian = step / 10;
        most = Math.max(most, Math.abs(quadraticForm(F, meridian) - quadraticForm(G, meridian)));
      }
      const { greatestMeridian } = interocularDifference({ right, left });
      // a grid of 0.1 degrees misses the peak by at most 16 D * (1 - cos 0.1 degrees)
      return greatestMeridian >= most - 1e-12 && greatestMeridian - most < 5e-5;
    }),
  );
  law(
    "mirror images do not differ once mirrored",
    fc.property(lens, (right) => {
      const left = { ...right, axis: 180 - right.axis! };
      const found = interocularDifference({ right, left }, { mirror: true });
      return Object.values(found).every((value) => close(value, 0));
    }),
  );
});

test("inputs are left untouched", () => {
  const rx = Object.freeze({ sphere: 1, cylinder: -2, axis: 30 });
  const list = Object.freeze([rx, rx]);
  expect(() => {
    transpose(rx);
    addPrescriptions(list);
    averagePrescriptions(list, { centre: "median" });
    mirrorEye(Object.freeze({ M: 1, J0: 2, J45: 3 }));
  }).not.toThrow();
});
