import { expect, test } from "vitest";
import { compareNetBenefit, netBenefit } from "../../src/accuracy/index.js";
import { siteJackknife } from "../../src/inference/index.js";
import { createRandom } from "../../src/inference/random.js";
import { known } from "../known.js";

function rows(children: number, perChild: number, seed: number, stream: number) {
  const random = createRandom(seed, stream);
  const found = { first: [] as number[], second: [] as number[], reference: [] as number[] };
  const subjects: number[] = [];
  for (let child = 0; child < children; child++) {
    const latent = random.normal();
    const reading = latent + 0.5 * random.normal();
    for (let eye = 0; eye < perChild; eye++) {
      const own = reading + 0.2 * random.normal();
      found.first.push(own >= 0.8 ? 1 : 0);
      found.second.push(own >= 1.2 ? 1 : 0);
      found.reference.push(latent >= 1 ? 1 : 0);
      subjects.push(child);
    }
  }
  return { ...found, subjects };
}

test("each side is the net benefit of its table, the difference their difference", () => {
  const { first, second, reference } = rows(300, 1, 4, 0);
  const { points } = compareNetBenefit(
    { first, second, reference },
    { thresholdProbabilities: [0, 0.2, 0.5] },
  );
  const table = (test: number[]) => {
    const count = (a: number, b: number) =>
      test.filter((value, row) => value === a && reference[row] === b).length;
    return {
      truePositive: count(1, 1),
      falsePositive: count(1, 0),
      falseNegative: count(0, 1),
      trueNegative: count(0, 0),
    };
  };
  for (const { thresholdProbability, first: a, second: b, difference } of points) {
    const at = { thresholdProbabilities: [thresholdProbability] };
    const alone = (test: number[]) =>
      known(netBenefit({ table: table(test) }, at).points[0].netBenefit).value;
    expect(a).toBeCloseTo(alone(first), 12);
    expect(b).toBeCloseTo(alone(second), 12);
    expect(known(difference).value).toBeCloseTo(a - b, 12);
  }
});

test("independent rows: the interval is Student's of the rows' own gains", () => {
  const { first, second, reference } = rows(80, 1, 5, 0);
  const gains = first.map((value, row) => (value - second[row]) * (reference[row] ? 1 : -0.25));
  const n = gains.length;
  const mean = gains.reduce((sum, one) => sum + one, 0) / n;
  const sd = Math.sqrt(gains.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (n - 1));
  const { difference } = compareNetBenefit(
    { first, second, reference },
    { thresholdProbabilities: [0.2] },
  ).points[0];
  expect(known(difference).se).toBeCloseTo(sd / Math.sqrt(n), 12);
  // R 4: qt(.975, 79)
  expect(known(difference).high - mean).toBeCloseTo((1.990450211 * sd) / Math.sqrt(n), 8);
});

test("two eyes of a child: the clustered interval covers, that of independent rows does not", () => {
  const large = rows(60_000, 1, 6, 0);
  const at = { thresholdProbabilities: [0.3] };
  const truth = known(compareNetBenefit(large, at).points[0].difference).value;
  let [clustered, plain] = [0, 0];
  const runs = 300;
  for (let run = 0; run < runs; run++) {
    const { subjects, ...data } = rows(150, 2, 7, run);
    const holds = (found: ReturnType<typeof compareNetBenefit>) => {
      const { low, high } = known(found.points[0].difference);
      return Number(low <= truth && truth <= high);
    };
    clustered += holds(compareNetBenefit({ ...data, subjects }, at));
    plain += holds(compareNetBenefit(data, at));
  }
  expect(clustered / runs).toBeGreaterThan(0.92);
  expect(plain / runs).toBeLessThan(clustered / runs - 0.03);
});

test("sites above children are jackknifed; faulty thresholds and equal rules are told", () => {
  const { subjects, ...data } = rows(60, 2, 8, 0);
  const site = subjects.map((child) => child % 6);
  const { points, sites } = compareNetBenefit(
    { ...data, clusters: { subject: subjects, site } },
    { thresholdProbabilities: [0.2] },
  );
  const gain = (row: number) =>
    (data.first[row] - data.second[row]) * (data.reference[row] ? 1 : -0.25);
  const wanted = siteJackknife((all) => all.reduce((sum, row) => sum + gain(row), 0) / all.length, {
    site,
  });
  expect(sites).toBe(6);
  expect(known(points[0].difference).low).toBeCloseTo(known(wanted).low, 12);
  const same = { ...data, second: data.first };
  expect(compareNetBenefit(same, { thresholdProbabilities: [0.2] }).points[0].difference.kind).toBe(
    "undefined",
  );
  expect(() => compareNetBenefit(data, { thresholdProbabilities: [1] })).toThrow("got 1");
});
