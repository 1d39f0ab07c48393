import { bench, describe } from "vitest";
import { createRandom } from "../../src/inference/random.js";
import { toPowerVectors } from "../../src/refraction/index.js";

/**
 * Ten million prescriptions to power vectors against ten million pairs of Math.cos and Math.sin
 * over the same axes in the same run. Wanted: at most 1.2 times as long for any axes, at most 0.3
 * times for whole degrees; both write to arrays that are there already, so that the memory system
 * is not what is measured (from a table of the same bits; tests/refraction/columns.test.ts).
 */
const n = 10_000_000;
const random = createRandom(20_260_101);
const sphere = Float64Array.from({ length: n }, () => Math.round(random.uniform() * 80 - 40) / 4);
const cylinder = Float64Array.from({ length: n }, () => -Math.round(random.uniform() * 16 + 1) / 4);
const axis = Float64Array.from({ length: n }, () => random.uniform() * 180);
const wholeAxis = axis.map(Math.ceil);

const into = { M: new Float64Array(n), J0: new Float64Array(n), J45: new Float64Array(n) };

const once = { iterations: 5, warmupIterations: 1, time: 0, warmupTime: 0 };

function cosineAndSine(degrees: Float64Array): void {
  const { J0: cosines, J45: sines } = into;
  for (let row = 0; row < n; row++) {
    const doubled = (degrees[row] * Math.PI) / 90;
    cosines[row] = Math.cos(doubled);
    sines[row] = Math.sin(doubled);
  }
}

describe("ten million prescriptions, any axes", () => {
  bench("Math.cos and Math.sin", () => cosineAndSine(axis), once);
  bench("toPowerVectors", () => void toPowerVectors({ sphere, cylinder, axis }, { into }), once);
});

describe("ten million prescriptions, whole degrees", () => {
  bench("Math.cos and Math.sin", () => cosineAndSine(wholeAxis), once);
  bench(
    "toPowerVectors",
    () => void toPowerVectors({ sphere, cylinder, axis: wholeAxis }, { into }),
    once,
  );
});
