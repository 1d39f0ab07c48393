// Sites above children, tried out: studies analysed by `clusteredAccuracy` with `clusters`.
import { describe, expect, test } from "vitest";
import { clusteredAccuracy } from "../../src/accuracy/index.js";
import { createRandom } from "../../src/inference/random.js";
import { planAccuracyStudy } from "../../src/planning/index.js";
import { known } from "../known.js";

const expected = { sensitivity: 0.8, specificity: 0.9, prevalence: 0.5 };
const sites = { perSite: 30, correlation: 0.05 };

describe("planAccuracyStudy with sites", () => {
  test("the half-width planned for 20 schools is that of studies so drawn", () => {
    const plan = planAccuracyStudy({ expected, sites, at: [600] });
    const planned = known(plan.table[0].specificity);
    const random = createRandom(24);
    const subject = Array.from({ length: 600 }, (_, row) => row);
    const site = subject.map((row) => Math.floor(row / 30));
    const reference = subject.map((row) => row % 2);
    let width = 0;
    const runs = 200;
    for (let run = 0; run < runs; run++) {
      // a beta of each school gives two of its children the stated correlation: a + b = 1/rho - 1
      const rates = Array.from({ length: 20 }, () => beta(0.9 * 19, 0.1 * 19, random));
      const test = subject.map((row) => {
        const passes = random.uniform() < rates[site[row]];
        return reference[row] === 1 ? Number(random.uniform() < 0.8) : Number(!passes);
      });
      const found = clusteredAccuracy({ test, reference, clusters: { subject, site } });
      const { low, high } = known(found.specificity);
      width += (high - low) / runs;
    }
    expect(Math.abs(width / (planned.high - planned.low) - 1)).toBeLessThan(0.08);
  });

  test("more sites help, more children of one site hardly do; correlation 0 leaves only Student's t", () => {
    const aim = { halfWidth: { specificity: 0.05 } };
    const few = planAccuracyStudy({ expected, aim, sites });
    const small = planAccuracyStudy({ expected, aim, sites: { ...sites, perSite: 10 } });
    const none = planAccuracyStudy({ expected, aim });
    const free = planAccuracyStudy({ expected, aim, sites: { perSite: 10, correlation: 0 } });
    const [a, b, c, d] = [few, small, none, free].map(({ n }) => Number(n));
    expect(a).toBeGreaterThan(b);
    expect(b).toBeGreaterThan(d);
    expect(d).toBeGreaterThan(c);
    expect(d / c).toBeLessThan(1.1);
    expect(few.assumptions.join(" ")).toContain("more sites help");
  });

  test("fewer than two sites, a power and an assurance are refused", () => {
    expect(() => planAccuracyStudy({ expected, sites, at: [50] })).toThrow("at least 2 sites");
    const minimum = { minimum: { specificity: 0.8 }, power: 0.8 };
    expect(() => planAccuracyStudy({ expected, sites, aim: minimum })).toThrow("no exact power");
    const aim = { halfWidth: { specificity: 0.05 } };
    expect(() => planAccuracyStudy({ expected, sites, aim, assurance: 0.9 })).toThrow(
      "no assurance",
    );
  });
});

/** A beta variate of two gammas (Marsaglia and Tsang 2000). */
function beta(a: number, b: number, random: ReturnType<typeof createRandom>): number {
  const gamma = (shape: number): number => {
    const d = shape - 1 / 3;
    for (;;) {
      const x = random.normal();
      const v = (1 + x / Math.sqrt(9 * d)) ** 3;
      const u = random.uniform();
      if (v > 0 && Math.log(u) < 0.5 * x * x + d - d * v + d * Math.log(v)) return d * v;
    }
  };
  const x = gamma(a);
  return x / (x + gamma(b));
}
