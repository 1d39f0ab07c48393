import { mean, sampleStandardDeviation, sum } from "simple-statistics";
import { describe, expect, it } from "vitest";
import {
  axisAgreement,
  calibrateReading,
  concordanceCorrelation,
  demingRegression,
  doubleAngleSummary,
  greyZone,
  limitsOfAgreement,
  pairedTTest,
  passingBablok,
  repeatability,
  signedRankTest,
  vectorAgreement,
  withinDifference,
} from "../../src/agreement/index.js";
import { createRandom, fQuantile, tQuantile, twoSidedT } from "../../src/inference/index.js";
import { known } from "../known.js";

/** Seven sites of unequal size, two eyes a child, each read twice. */
function invented() {
  const random = createRandom(41);
  const rows: { test: number; reference: number; child: number; eye: string; site: number }[] = [];
  for (let child = 0; child < 60; child++) {
    const site = Math.floor(Math.sqrt(child * 0.8));
    for (const eye of ["right", "left"]) {
      const reference = 1.5 * random.normal() + 0.1 * site;
      for (let reading = 0; reading < 2; reading++) {
        const error = 0.4 * Math.sin(5 * site) + (0.4 + 0.1 * site) * random.normal();
        rows.push({ test: 0.9 * reference + error, reference, child, eye, site });
      }
    }
  }
  return rows;
}

const rows = invented();
type Rows = typeof rows;
const column = <Key extends keyof Rows[number]>(list: Rows, key: Key) =>
  list.map((row) => row[key]);
const differences = (list: Rows) => list.map(({ test, reference }) => test - reference);
const dataOf = (list: Rows) => ({
  test: column(list, "test"),
  reference: column(list, "reference"),
  clusters: { subject: column(list, "child"), site: column(list, "site") },
});
const data = dataOf(rows);
const sites = [...new Set(data.clusters.site)];
const without = (site: number) => rows.filter((row) => row.site !== site);
/** Effective sites, 1 / sum of squared shares, of what each site adds to a denominator. */
const effective = (added: number[]) => sum(added) ** 2 / sum(added.map((one) => one * one));
const rowsOfSite = sites.map((site) => rows.filter((row) => row.site === site).length);

const scales = {
  plain: [(x: number) => x, (x: number) => x],
  logit: [(x: number) => Math.log(x / (1 - x)), (x: number) => 1 / (1 + Math.exp(-x))],
  log: [Math.log, Math.exp],
  z: [Math.atanh, Math.tanh],
} as const;

/** Low and high of a jackknife that leaves out one site after the other, by definition. */
function jackknife(
  value: number,
  statistic: (list: Rows) => number,
  options: { level?: number; scale?: keyof typeof scales; added?: number[] } = {},
) {
  const { level = 0.95, scale = "plain", added = rowsOfSite } = options;
  const [to, from] = scales[scale];
  const left = sites.filter((_, at) => added[at] > 0).map((site) => to(statistic(without(site))));
  const centre = mean(left);
  const variance = ((left.length - 1) / left.length) * sum(left.map((one) => (one - centre) ** 2));
  const half = tQuantile((1 + level) / 2, effective(added) - 1) * Math.sqrt(variance);
  return { low: from(to(value) - half), high: from(to(value) + half) };
}

function expectInterval(
  found: { low?: number; high?: number },
  wanted: ReturnType<typeof jackknife>,
) {
  expect(found.low).toBeCloseTo(wanted.low, 9);
  expect(found.high).toBeCloseTo(wanted.high, 9);
}

describe("limits of agreement", () => {
  const found = limitsOfAgreement(data, { conditional: "skip", level: 0.9 });
  const limit = (side: number) => (list: Rows) =>
    mean(differences(list)) + side * 1.959963984540054 * sampleStandardDeviation(differences(list));

  it("bias, SD and both limits", () => {
    expect(found.bias.value).toBeCloseTo(mean(differences(rows)), 12);
    const level = 0.9;
    expectInterval(
      found.bias,
      jackknife(found.bias.value, (list) => mean(differences(list)), { level }),
    );
    expectInterval(
      found.sd,
      jackknife(found.sd.value, (list) => sampleStandardDeviation(differences(list)), { level }),
    );
    expectInterval(found.lower, jackknife(found.lower.value, limit(-1), { level }));
    expectInterval(found.upper, jackknife(found.upper.value, limit(1), { level }));
    const { bias, sd, lower, upper } = found;
    expect(lower.value).toBeCloseTo(bias.value - 1.959963984540054 * sd.value, 9);
    expect(upper.value).toBeCloseTo(bias.value + 1.959963984540054 * sd.value, 9);
  });

  it.each(["mean", "test", "reference"] as const)("the slope on the %s", (trend) => {
    const slopeOf = (list: Rows) => {
      const x = list.map(({ test, reference }) =>
        trend === "mean" ? (test + reference) / 2 : trend === "test" ? test : reference,
      );
      const y = differences(list);
      const [mx, my] = [mean(x), mean(y)];
      return (
        sum(x.map((one, at) => (one - mx) * (y[at] - my))) / sum(x.map((one) => (one - mx) ** 2))
      );
    };
    const slope = known(limitsOfAgreement(data, { trend, conditional: "skip" }).slope);
    expect(slope.value).toBeCloseTo(slopeOf(rows), 10);
    expectInterval(slope, jackknife(slopeOf(rows), slopeOf));
  });

  it("the share outside, on the logit scale", () => {
    const { lower, upper, outside } = limitsOfAgreement(data, {
      coverage: 0.6,
      conditional: "skip",
    });
    const share = (list: Rows) =>
      mean(differences(list).map((d) => Number(d < lower.value || d > upper.value)));
    expect(known(outside.share).value).toBe(share(rows));
    expectInterval(known(outside.share), jackknife(share(rows), share, { scale: "logit" }));
  });
});

describe("what else takes sites", () => {
  it("the t-test: t and p from effective sites", () => {
    const found = pairedTTest(data);
    const difference = known(found.difference as never);
    const bias = mean(differences(rows));
    expectInterval(
      difference,
      jackknife(bias, (list) => mean(differences(list))),
    );
    const df = effective(rowsOfSite) - 1;
    const half = tQuantile(0.975, df);
    expect(found.df).toBeCloseTo(df, 12);
    expect(found.t).toBeCloseTo((bias * half) / (difference.high - bias), 9);
    expect(found.p).toBeCloseTo(twoSidedT((bias * half) / (difference.high - bias), df), 9);
    expect(found).toMatchObject({ sites: sites.length, subjects: 60, n: 240 });
  });

  it("shares within a difference", () => {
    const share = (list: Rows) => mean(differences(list).map((d) => Number(Math.abs(d) <= 0.5)));
    const [one] = withinDifference(data, { acceptable: [0.5] }).shares;
    expectInterval(known(one.within), jackknife(share(rows), share, { scale: "logit" }));
  });

  it("the grey zone: children by their worse eye, each share over its own children", () => {
    const options = { limit: 1, referenceLimit: 1.25, margin: 0.6, positiveWhen: "high" } as const;
    const found = greyZone(data, options);
    const childrenOf = (list: Rows) =>
      [...new Set(column(list, "child"))].map((child) => {
        const own = list.filter((row) => row.child === child);
        const [test, reference] = [
          Math.max(...column(own, "test")),
          Math.max(...column(own, "reference")),
        ];
        return {
          site: own[0].site,
          inside: Math.abs(test - 1) <= 0.6,
          apart: test >= 1 !== reference >= 1.25,
        };
      });
    type Children = ReturnType<typeof childrenOf>;
    const shareOf = (keep: (child: Children[number]) => boolean, of: "inside" | "apart") => ({
      share: (list: Rows) =>
        mean(
          childrenOf(list)
            .filter(keep)
            .map((child) => Number(child[of])),
        ),
      added: sites.map(
        (site) => childrenOf(rows).filter((child) => child.site === site && keep(child)).length,
      ),
    });
    expect(found.inZone).toBe(childrenOf(rows).filter(({ inside }) => inside).length);
    for (const [estimate, { share, added }] of [
      [found.share, shareOf(() => true, "inside")],
      [found.misclassifiedInside, shareOf(({ inside }) => inside, "apart")],
      [found.misclassifiedOutside, shareOf(({ inside }) => !inside, "apart")],
    ] as const) {
      expect(known(estimate).value).toBeCloseTo(share(rows), 12);
      expectInterval(known(estimate), jackknife(share(rows), share, { scale: "logit", added }));
    }
  });

  it("concordance, on Fisher's scale", () => {
    const concordance = (list: Rows) => {
      const [x, y] = [column(list, "test"), column(list, "reference")];
      const [mx, my] = [mean(x), mean(y)];
      const products = (a: number[], ma: number, b: number[], mb: number) =>
        mean(a.map((one, at) => (one - ma) * (b[at] - mb)));
      return (
        (2 * products(x, mx, y, my)) /
        (products(x, mx, x, mx) + products(y, my, y, my) + (mx - my) ** 2)
      );
    };
    const { estimate } = concordanceCorrelation(data);
    expect(known(estimate).value).toBeCloseTo(concordance(rows), 12);
    expectInterval(known(estimate), jackknife(concordance(rows), concordance, { scale: "z" }));
  });

  it("Deming's line, by the formula of its quadratic", () => {
    const ratio = 1.7;
    const line = (list: Rows) => {
      const [x, y] = [column(list, "reference"), column(list, "test")];
      const [mx, my] = [mean(x), mean(y)];
      const sxx = sum(x.map((one) => (one - mx) ** 2));
      const syy = sum(y.map((one) => (one - my) ** 2));
      const sxy = sum(x.map((one, at) => (one - mx) * (y[at] - my)));
      const gap = syy - ratio * sxx;
      const slope = (gap + Math.sqrt(gap ** 2 + 4 * ratio * sxy ** 2)) / (2 * sxy);
      return { slope, intercept: my - slope * mx };
    };
    const found = demingRegression(data, { errorRatio: ratio });
    for (const name of ["slope", "intercept"] as const) {
      const of = (list: Rows) => line(list)[name];
      expect(known(found[name]).value).toBeCloseTo(of(rows), 10);
      expectInterval(known(found[name]), jackknife(of(rows), of));
    }
  });

  it("repeatability: within-eye SD on the log scale, sites weighed by their squares", () => {
    const eyes = (list: Rows) => {
      const own = new Map<string, number[]>();
      for (const { child, eye, test } of list) {
        const key = `${child} ${eye}`;
        own.set(key, [...(own.get(key) ?? []), test]);
      }
      return [...own.values()];
    };
    const squares = (list: Rows) => sum(eyes(list).map(([a, b]) => (a - b) ** 2 / 2));
    const sd = (list: Rows) => Math.sqrt(squares(list) / eyes(list).length);
    const { test: values, clusters } = data;
    const found = repeatability({ values, clusters, units: column(rows, "eye") });
    const added = sites.map((site) => squares(rows.filter((row) => row.site === site)));
    expect(found).toMatchObject({ kind: "repeatability", df: 120, units: 120, subjects: 60 });
    expect(known(found.withinSd).value).toBeCloseTo(sd(rows), 12);
    expectInterval(known(found.withinSd), jackknife(sd(rows), sd, { scale: "log", added }));
    expect(known(found.withinSd).method).toBe("log-jackknife");
  });

  it("signed ranks of more than 16 sites: the sum over the root of the sites' squares", () => {
    const many = Array.from({ length: 36 }, (_, row) => ({
      difference: ((row * 17) % 37) - 14.5,
      site: row % 18,
    }));
    const sizes = many.map(({ difference }) => Math.abs(difference));
    const rank = (size: number) =>
      sizes.filter((one) => one < size).length +
      (sizes.filter((one) => one === size).length + 1) / 2;
    const scores = Array.from({ length: 18 }, (_, site) =>
      sum(
        many
          .filter((row) => row.site === site)
          .map(({ difference }) => Math.sign(difference) * rank(Math.abs(difference))),
      ),
    );
    const found = signedRankTest({
      test: many.map(({ difference }) => difference),
      reference: many.map(() => 0),
      clusters: { subject: many.map((_, row) => row), site: many.map(({ site }) => site) },
    });
    const z = sum(scores) / Math.sqrt(sum(scores.map((one) => one * one)));
    expect(found.z).toBeCloseTo(z, 10);
    expect(found).toMatchObject({ method: "sites", sites: 18, zeros: 0 });
    expect(found.positiveRanks - found.negativeRanks).toBeCloseTo(sum(scores), 10);
  });
});

describe("vectors, axes and lines with sites", () => {
  const vectors = rows.map(({ test, reference, child }) => ({
    M: test - reference,
    J0: ((child * 7) % 11) / 20 - 0.2,
    J45: ((child * 5) % 13) / 30 - 0.2 + 0.1 * test,
  }));
  const { clusters } = data;
  const names = ["M", "J0", "J45"] as const;

  it("the covariance of the mean vector, and Hotelling's F with effective sites", () => {
    const origin = vectors.map(() => ({ M: 0, J0: 0, J45: 0 }));
    const found = vectorAgreement({ test: vectors, reference: origin, clusters });
    const left = sites.map((site) => {
      const kept = vectors.filter((_, row) => rows[row].site !== site);
      return names.map((name) => mean(kept.map((vector) => vector[name])));
    });
    const centre = names.map((_, at) => mean(left.map((one) => one[at])));
    const k = sites.length;
    for (const [a] of names.entries()) {
      for (const [b] of names.entries()) {
        const wanted =
          ((k - 1) / k) * sum(left.map((one) => (one[a] - centre[a]) * (one[b] - centre[b])));
        expect(found.meanCovariance[a][b]).toBeCloseTo(wanted, 12);
      }
    }
    const units = effective(rowsOfSite);
    const hotelling = known(found.hotelling as never) as unknown as {
      df: number[];
      f: number;
      t2: number;
    };
    expect(hotelling.df[1]).toBeCloseTo(units - 3, 12);
    expect(hotelling.f).toBeCloseTo((hotelling.t2 * (units - 3)) / (3 * (units - 1)), 10);
    expect(found.limits.M.bias).toEqual(
      limitsOfAgreement({ ...data, clusters }, { conditional: "skip" }).bias,
    );
    const share = (list: Rows) =>
      mean(
        list.map((row) => {
          const { M, J0, J45 } = vectors[rows.indexOf(row)];
          return Number(Math.round(1000 * Math.hypot(M, J0, J45)) <= 500);
        }),
      );
    expectInterval(
      known(found.distances.within[1].share),
      jackknife(share(rows), share, { scale: "logit" }),
    );
    const cloud = doubleAngleSummary({ vectors, clusters });
    expect(cloud.ellipses.centroid.method).toBe("hotelling-sites");
    // the sum of squared semi-axes over the radius is the trace of the covariance of the mean
    const radius = ((2 * (units - 1)) / (units - 2)) * fQuantile(0.95, 2, units - 2);
    const [long, short] = cloud.ellipses.centroid.semiAxes;
    expect((long ** 2 + short ** 2) / radius).toBeCloseTo(
      found.meanCovariance[1][1] + found.meanCovariance[2][2],
      9,
    );
  });

  it("the share of axes within so many degrees", () => {
    const axisOf = (row: Rows[number]) =>
      (Math.round(Math.abs(row.test) * 40) + 10 * row.site) % 180;
    const other = (row: Rows[number]) => (axisOf(row) + ((row.child * 7) % 23)) % 180;
    const found = axisAgreement({
      test: rows.map((row) => ({ cylinder: -1, axis: axisOf(row) })),
      reference: rows.map((row) => ({ cylinder: -1, axis: other(row) })),
      clusters,
    });
    const share = (list: Rows) => mean(list.map((row) => Number((row.child * 7) % 23 <= 10)));
    expectInterval(known(found.within[1].share), jackknife(share(rows), share, { scale: "logit" }));
  });

  it("Passing and Bablok's line, also where children repeat", () => {
    const found = passingBablok(data);
    expect(found.method).toBe("site-jackknife");
    // without sites children may not repeat: every row as a child of its own
    const line = (list: Rows) =>
      passingBablok({ test: column(list, "test"), reference: column(list, "reference") });
    for (const part of ["slope", "intercept"] as const) {
      const value = (list: Rows) => known(line(list)[part]).value;
      expect(known(found[part]).value).toBe(value(rows));
      expectInterval(known(found[part]), jackknife(value(rows), value));
    }
  });

  it("a calibration leaves out whole sites", () => {
    const found = calibrateReading(data, { folds: 3, seed: 5 });
    const slope = (list: Rows) => {
      const [x, y] = [column(list, "test"), column(list, "reference")];
      const [mx, my] = [mean(x), mean(y)];
      return (
        sum(x.map((one, at) => (one - mx) * (y[at] - my))) / sum(x.map((one) => (one - mx) ** 2))
      );
    };
    expect(found.slope.value).toBeCloseTo(slope(rows), 10);
    expectInterval(found.slope, jackknife(slope(rows), slope));
    expect(() => calibrateReading(data, { folds: 10 })).toThrow(
      `no more folds than sites, which are left out whole, got 10 folds of ${sites.length}`,
    );
  });

  it("too few sites are named, and a simulated region knows none", () => {
    const three = {
      subject: data.clusters.subject,
      site: data.clusters.subject.map((one) => one % 3),
    };
    expect(() => doubleAngleSummary({ vectors, clusters: three })).toThrow(
      "doubleAngleSummary requires sites that count as more than 4, got 3 that count as 3.0; give subjects",
    );
    expect(() =>
      vectorAgreement({ test: vectors, reference: vectors, clusters }, { replicates: 100 }),
    ).toThrow("vectorAgreement requires subjects for a tolerance region, got clusters");
  });
});
