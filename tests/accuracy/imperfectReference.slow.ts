import { describe, expect, test } from "vitest";
import { imperfectReference } from "../../src/accuracy/index.js";
import { createRandom } from "../../src/inference/random.js";
import { simulateCohort } from "../../src/simulation/index.js";
import { known } from "../known.js";

const limit = { relation: ">=", limit: 2 } as const;

/** True findings, readings and exams that err; the truth is known here and nowhere else. */
function invented(errorSd: number, testSd: number, step: number, n: number, seed: number) {
  const random = createRandom(seed);
  const onStep = (value: number) => (step === 0 ? value : Math.round(value / step) * step);
  const truth = Array.from({ length: n }, () => 0.8 + 1.5 * random.normal());
  const test = truth.map((value) => (value + testSd * random.normal() >= 1.75 ? 1 : 0));
  const reference = truth.map((value) => onStep(value + errorSd * random.normal()));
  const has = truth.map((value) => onStep(value) >= 2);
  const rate = (side: boolean) => {
    const rows = has.flatMap((value, row) => (value === side ? [row] : []));
    return rows.filter((row) => test[row] === Number(side)).length / rows.length;
  };
  return { test, reference, has, sensitivity: rate(true), specificity: rate(false) };
}

describe("against invented truth", () => {
  test.each([
    [0.2, 0.6, 0.25],
    [0.35, 0.6, 0.125],
    [0.35, 0.6, 0],
    [0.3, 1, 0.25],
  ])("error SD %f, test's own %f, step %f: the rates of the truth come back", (sd, own, step) => {
    const data = invented(sd, own, step, 30_000, 11);
    const found = imperfectReference(data, { limit, errorSd: sd, step });
    const [row] = found.rows;
    for (const name of ["sensitivity", "specificity"] as const) {
      const observed = known(found.observed[name]).value;
      // Monte Carlo error of the truth .005; what the reference's error took is .01 to .05
      expect(Math.abs(known(row[name]).value - data[name])).toBeLessThan(0.012);
      if (name === "sensitivity") expect(observed).toBeLessThan(data[name]);
    }
    const wrong = data.reference.filter((value, at) => value >= 2 !== data.has[at]).length;
    expect(row.otherSide).toBeGreaterThan((0.8 * wrong) / 30_000);
    expect(row.otherSide).toBeLessThan((1.5 * wrong) / 30_000);
  });

  test("the simulator's latent truth: nearer to it than the headline", async () => {
    const cohort = await simulateCohort({
      children: 20_000,
      seed: 24,
      scenario: "complete",
      parameters: { reference: { errorSd: 0.35, inadequateShare: 0, progression: 0 } },
    });
    const { latent, finding } = cohort.truth;
    const referAt = (reading: number) => reading >= 1.25;
    const readings = new Map<number, number>();
    const { subject, eye, sphere, cylinder, status } = cohort.readings;
    for (let row = 0; row < cohort.readings.n; row++) {
      if (eye.codes[row] !== 0 || status.labels[status.codes[row]] !== "measured") continue;
      readings.set(subject.codes[row], sphere[row] + cylinder[row] / 2);
    }
    const children = [...readings.keys()];
    const test = children.map((child) => (referAt(readings.get(child)!) ? 1 : 0));
    const reference = children.map((child) => finding.right.M[child]);
    const has = children.map((child) => latent.right.M[child] >= 2 - 0.0625);
    const share = (side: boolean) => {
      const rows = has.flatMap((value, row) => (value === side ? [row] : []));
      return rows.filter((row) => test[row] === Number(side)).length / rows.length;
    };
    const { rows, observed } = imperfectReference({ test, reference }, { limit, errorSd: 0.35 });
    for (const [name, truth] of [
      ["sensitivity", share(true)],
      ["specificity", share(false)],
    ] as const) {
      const before = Math.abs(known(observed[name]).value - truth);
      expect(Math.abs(known(rows[0][name]).value - truth)).toBeLessThan(
        Math.max(0.02, 0.6 * before),
      );
    }
  });
});

describe("its interval", () => {
  test("holds the rates of the truth (120 cohorts of 500)", () => {
    const truth = invented(0.3, 0.6, 0.125, 60_000, 5);
    const held = { sensitivity: 0, specificity: 0 };
    let given = 0;
    for (let seed = 0; seed < 120; seed++) {
      const data = invented(0.3, 0.6, 0.125, 500, 100 + seed);
      const [row] = imperfectReference(data, { limit, errorSd: 0.3 }).rows;
      if (row.sensitivity.kind === "undefined" || row.specificity.kind === "undefined") continue;
      given++;
      for (const name of ["sensitivity", "specificity"] as const) {
        const { low, high } = known(row[name]);
        if (low <= truth[name] && truth[name] <= high) held[name]++;
      }
    }
    // Three binomial errors of 120 below .95.
    expect(given).toBe(120);
    expect(held.sensitivity / given).toBeGreaterThan(0.95 - 3 * 0.02);
    expect(held.specificity / given).toBeGreaterThan(0.95 - 3 * 0.02);
  });

  test("by child where eyes repeat, by site where there are sites", () => {
    const data = invented(0.3, 0.6, 0.125, 400, 9);
    const twice = {
      test: [...data.test, ...data.test],
      reference: [...data.reference, ...data.reference],
    };
    const subjects = twice.test.map((_, row) => row % 400);
    const at = { limit, errorSd: 0.3 };
    const once = known(imperfectReference(data, at).rows[0].sensitivity);
    // The same children twice say nothing more.
    const again = known(imperfectReference({ ...twice, subjects }, at).rows[0].sensitivity);
    expect(again.low).toBeCloseTo(once.low, 10);
    expect(again.method).toBe("logit-jackknife-clusters");
    const clusters = { subject: subjects, site: subjects.map((child) => child % 20) };
    const sited = known(imperfectReference({ ...twice, clusters }, at).rows[0].sensitivity);
    expect(sited.method).toBe("site-jackknife");
    expect(sited.value).toBeCloseTo(once.value, 10);
  });
});

describe("by definition", () => {
  const exam = { test: [1, 1, 0, 1, 0, 0, 0, 0], reference: [3, 2.5, 2, 1.75, 1.5, 1, 0, 0] };

  test("the chance of the other side is an integral over the step, by Simpson's rule", () => {
    const [row] = imperfectReference(exam, { limit, errorSd: 0.25, step: 0.25 }).rows;
    const normal = (x: number) => {
      // series of Marsaglia 2004
      let [sum, term] = [x, x];
      for (let k = 3; k < 200; k += 2) {
        term *= (x * x) / k;
        sum += term;
      }
      return 0.5 + (sum * Math.exp((-x * x) / 2)) / Math.sqrt(2 * Math.PI);
    };
    const total = exam.reference.reduce((whole, value) => {
      let sum = 0;
      const parts = 200;
      for (let k = 0; k <= parts; k++) {
        const x = value - 0.125 + (0.25 * k) / parts;
        const z = Math.max(-6, Math.min(6, (x - 1.875) / 0.25));
        const above = normal(z);
        const weight = k === 0 || k === parts ? 1 : k % 2 === 1 ? 4 : 2;
        sum += (weight * (value >= 2 ? 1 - above : above)) / (3 * parts);
      }
      return whole + sum;
    }, 0);
    expect(row.otherSide).toBeCloseTo(total / 8, 7);
    expect(row.nearLimit).toBe(2);
  });

  test("a mirrored limit gives mirrored rates, and several SDs a row each", () => {
    const one = imperfectReference(exam, { limit, errorSd: [0.1, 0.3], step: 0.25 });
    const mirrored = imperfectReference(
      { test: exam.test, reference: exam.reference.map((value) => -value) },
      { limit: { relation: "<=", limit: -2 }, errorSd: [0.1, 0.3], step: 0.25 },
    );
    expect(mirrored.rows).toEqual(one.rows);
    expect(one.rows[1].otherSide).toBeGreaterThan(one.rows[0].otherSide);
    const strict = imperfectReference(exam, {
      limit: { relation: ">", limit: 1.75 },
      errorSd: [0.1, 0.3],
      step: 0.25,
    });
    expect(strict.rows).toEqual(one.rows);
  });

  test("rates of 0 or 1 have no extrapolation; faulty input is named", () => {
    const perfect = { test: [1, 1, 0, 0], reference: [9, 9, -9, -9] };
    const { rows } = imperfectReference(perfect, { limit, errorSd: 0.2, step: 0.25 });
    expect(rows[0].sensitivity).toMatchObject({ kind: "undefined" });
    expect(() => imperfectReference(exam, { limit, errorSd: 0 })).toThrow("an errorSd above 0");
    expect(() =>
      imperfectReference({ test: [1], reference: [2.1] }, { limit, errorSd: 0.2 }),
    ).toThrow("whole steps of 0.125 D, got 2.1 in row 0");
  });
});
