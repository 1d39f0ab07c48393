import { describe, expect, it } from "vitest";
import { createRandom } from "../../src/inference/random.js";
import { binormalCurve } from "../../src/thresholds/index.js";

const known = (found: ReturnType<typeof binormalCurve>) => {
  if (found.kind === "undefined") throw new Error(found.reason);
  return found;
};

// Dorfman and Alf, J Math Psychol 1969;6:487-496 (method) on the ratings of Hanley and McNeil 1982:
// a 1.656782 (.310456), b .713002 (.215882), area .911331 (.029506) from memory, and recomputed in R
describe("binormalCurve", () => {
  const normal = [33, 6, 6, 11, 2];
  const abnormal = [3, 2, 2, 11, 33];
  const rows = [normal, abnormal].flatMap((counts, code) =>
    counts.flatMap((count, rating) => Array.from({ length: count }, () => [rating + 1, code])),
  );
  const data = { values: rows.map(([rating]) => rating), condition: rows.map(([, code]) => code) };
  it("the ratings of Hanley and McNeil 1982", () => {
    const found = known(binormalCurve(data, { positiveWhen: "high" }));
    expect(found.a.value.toFixed(6)).toBe("1.656782");
    expect(found.b.value.toFixed(6)).toBe("0.713002");
    expect(found.area.value.toFixed(6)).toBe("0.911331");
    expect(found.a.se).toBeCloseTo(0.310456, 5);
    expect(found.b.se).toBeCloseTo(0.215882, 5);
    expect(found.area.se).toBeCloseTo(0.029506, 5);
    expect(found.logLikelihood).toBeCloseTo(-123.648553177911, 8);
    // the recomputed boundaries are an optimiser's, good to about 1e-6
    [0.169768346546385, 0.463215293688518, 0.766860235541997, 1.79793851878662].forEach(
      (cut, k) => {
        expect(found.boundaries[k]).toBeCloseTo(cut, 5);
      },
    );
  });

  it("the direction mirrors", () => {
    const turned = { values: data.values.map((value) => -value), condition: data.condition };
    const found = known(binormalCurve(turned, { positiveWhen: "low" }));
    expect(found.area.value).toBeCloseTo(0.911331103492292, 6);
  });

  it("finds the truth of a large sample within four standard errors", () => {
    const random = createRandom(31);
    const values: number[] = [];
    const condition: number[] = [];
    for (let row = 0; row < 40_000; row++) {
      const code = row % 2;
      // a 1.2, b 0.8: with the condition, mean a/b and SD 1/b
      const hidden = code === 1 ? (1.2 + random.normal()) / 0.8 : random.normal();
      values.push([-0.5, 0.3, 1, 1.8].filter((boundary) => hidden > boundary).length);
      condition.push(code);
    }
    const found = known(binormalCurve({ values, condition }, { positiveWhen: "high" }));
    expect(Math.abs(found.a.value - 1.2)).toBeLessThan(4 * found.a.se!);
    expect(Math.abs(found.b.value - 0.8)).toBeLessThan(4 * found.b.se!);
  });

  it("says when there is no maximum, and refuses too few or too many categories", () => {
    const separated = {
      values: [1, 1, 2, 2, 3, 3, 4, 4],
      condition: [0, 0, 0, 0, 1, 1, 1, 1],
    };
    expect(binormalCurve(separated, { positiveWhen: "high" }).kind).toBe("undefined");
    const two = { values: [1, 2, 1, 2], condition: [0, 1, 1, 0] };
    expect(() => binormalCurve(two, { positiveWhen: "high" })).toThrow("got 2");
    const many = {
      values: Array.from({ length: 90 }, (_, i) => i),
      condition: Array.from({ length: 90 }, (_, i) => i % 2),
    };
    expect(() => binormalCurve(many, { positiveWhen: "high" })).toThrow("got 90");
  });
});
