import { mean, sum } from "simple-statistics";
import { describe, expect, it } from "vitest";
import { nonparametricLimits, regressionLimits } from "../../src/agreement/index.js";
import { createRandom, normalCdf, tQuantile } from "../../src/inference/index.js";

/** 300 children of one eye, or 180 of one or two; the spread grows from nothing, so that some rows have none fitted. */
function invented(eyes: number) {
  const random = createRandom(61);
  const out = { x: [] as number[], d: [] as number[], child: [] as number[] };
  for (let child = 0; child < (eyes === 1 ? 300 : 180); child++) {
    const place = 9 * random.uniform();
    const shared = random.normal();
    for (let eye = 0; eye < (eyes === 1 ? 1 : 1 + (child % 2)); eye++) {
      const own = place + 0.2 * eye;
      const error = eyes === 1 ? shared : 0.8 * shared + 0.6 * random.normal();
      out.x.push(own);
      out.d.push(0.3 - 0.1 * own + (0.02 + 0.3 * Math.max(0, own - 2)) * error);
      out.child.push(child);
    }
  }
  return out;
}

type Lines = readonly [number, number, number, number];

/** Weighted least squares of the differences, and of their distances from that line, about a fixed centre. */
function linesOf(x: number[], d: number[], w: number[]): Lines {
  const lineOf = (y: number[]) => {
    const total = sum(w);
    const mx = sum(x.map((one, at) => w[at] * one)) / total;
    const my = sum(y.map((one, at) => w[at] * one)) / total;
    const slope =
      sum(x.map((one, at) => w[at] * (one - mx) * (y[at] - my))) /
      sum(x.map((one, at) => w[at] * (one - mx) ** 2));
    return [my - slope * mx, slope];
  };
  const [height, slope] = lineOf(d);
  const [size, growth] = lineOf(d.map((one, at) => Math.abs(one - height - slope * x[at])));
  return [height, slope, size, growth];
}

/** The whole of regressionLimits once more, from how the lines move as one row's weight grows. */
function byDefinition(
  { x, d, child }: ReturnType<typeof invented>,
  cluster: number[] | null,
  df: number,
) {
  const n = x.length;
  const ones = x.map(() => 1);
  const lines = linesOf(x, d, ones);
  const height = (at: number) => lines[0] + lines[1] * at;
  const spread = (at: number) => lines[2] + lines[3] * at;
  const used = x.flatMap((one, row) => (spread(one) > 0 ? [row] : []));
  const scaled = used.map((row) => (d[row] - height(x[row])) / spread(x[row]));
  const step = 1e-6;
  const moves = x.map((_, row) => {
    const at = (by: number) =>
      linesOf(
        x,
        d,
        ones.map((one, other) => (other === row ? one + by : one)),
      );
    const [up, down] = [at(step), at(-step)];
    return up.map((one, k) => (one - down[k]) / (2 * step));
  });
  const squares = sum(x.map((one) => (one - mean(x)) ** 2));
  const labels = cluster ?? x.map((_, row) => row);
  const groups = [...new Set(labels)].map((label) =>
    labels.flatMap((one, row) => (one === label ? [row] : [])),
  );
  const k = groups.length;
  const factor = cluster === null ? 1 : (k / (k - 1)) * ((n - 1) / (n - 2));
  /** An error's share of each cluster; a row alone counts as much more as it pulls the line to itself. */
  const perCluster = (of: (lines: readonly number[]) => number) =>
    groups.map((rows) =>
      sum(
        rows.map((row) => {
          const pull = cluster === null ? 1 - 1 / n - (x[row] - mean(x)) ** 2 / squares : 1;
          return of(moves[row]) / pull;
        }),
      ),
    );
  const beyond = (side: 0 | 1, quantile: number) => {
    const is = scaled.map((one) => Number(side === 0 ? one <= quantile : one >= quantile));
    return groups.map((rows) =>
      sum(
        rows.map((row) =>
          used.includes(row) ? (is[used.indexOf(row)] - mean(is)) / used.length : 0,
        ),
      ),
    );
  };
  const product = (a: number[], b: number[]) => factor * sum(a.map((one, at) => one * b[at]));
  const seOf = (of: (lines: readonly number[]) => number) => {
    const scores = perCluster(of);
    return Math.sqrt(product(scores, scores));
  };
  const quantilesAt = (level: number, whose: object) =>
    nonparametricLimits({ test: scaled, reference: scaled.map(() => 0), ...whose }, { level });
  const ends = (side: 0 | 1, at: number, reach: number, level: number, whose: object) => {
    const limits = quantilesAt(level, whose);
    const q = side === 0 ? limits.lower : limits.upper;
    if (q.kind !== "estimate") throw new Error("too few rows");
    // Lines that move take all scaled residuals along, and so their quantile, by the mean over rows.
    const line = perCluster(([a, b, s, t]) => {
      const along = mean(
        used.map((row) => (a + b * x[row] + q.value * (s + t * x[row])) / spread(x[row])),
      );
      return a + b * at + q.value * (s + t * at) - spread(at) * along;
    });
    const share = beyond(side, side === 0 ? limits.percentiles.lower : limits.percentiles.upper);
    const sign = side === 0 ? -1 : 1;
    const correlation =
      (sign * product(line, share)) / Math.sqrt(product(line, line) * product(share, share));
    const distance = (end: number) => {
      const [one, own] = [
        reach * Math.sqrt(product(line, line)),
        spread(at) * Math.abs(q.value - end),
      ];
      return Math.sqrt(one ** 2 + own ** 2 + 2 * correlation * one * own);
    };
    const value = height(at) + q.value * spread(at);
    return [value, value - distance(q.low), value + distance(q.high), q.level];
  };
  const t = tQuantile(0.975, df);
  return {
    lines,
    height,
    spread,
    used,
    seOf,
    ends,
    t,
    child,
    whose: (rows: number[]) => used.map((row) => rows[row]),
  };
}

describe.each([
  ["children of one row", 1, "rows"],
  ["children of one and two eyes", 2, "children"],
  ["sites of several children", 2, "sites"],
] as const)("%s", (_, eyes, design) => {
  const data = invented(eyes);
  const { x, d, child } = data;
  const site = child.map((one) => (one < 30 ? 0 : one % 25));
  const sizes = [...new Set(site)].map((one) => site.filter((other) => other === one).length);
  const effective = sum(sizes) ** 2 / sum(sizes.map((size) => size ** 2));
  const df = { rows: x.length - 2, children: 179, sites: effective - 1 }[design];
  const slow = byDefinition(data, { rows: null, children: child, sites: site }[design], df);
  const whoseOf = (pick: (rows: number[]) => number[]) =>
    ({
      rows: {},
      children: { subjects: pick(child) },
      sites: { clusters: { subject: pick(child), site: pick(site) } },
    })[design];
  const at = [2.5, 5, 8.5];
  const found = regressionLimits(
    {
      test: x.map((one, row) => one + d[row] / 2),
      reference: x.map((one, row) => one - d[row] / 2),
      ...whoseOf((rows) => rows),
    },
    { at },
  );
  const whose = whoseOf(slow.whose);

  it("lines, and rows without a spread", () => {
    const [height, slope, size, growth] = slow.lines;
    expect(found.intercept.value).toBeCloseTo(height, 10);
    expect(found.slope.value).toBeCloseTo(slope, 10);
    expect(found.spreadIntercept.value).toBeCloseTo(size, 10);
    expect(found.spreadSlope.value).toBeCloseTo(growth, 10);
    expect(found.withoutSpread).toBe(x.length - slow.used.length);
    expect(found.withoutSpread).toBeGreaterThan(5);
    const kept = slow.used.map((row) => x[row]);
    expect(found.range[0]).toBeCloseTo(Math.min(...kept), 12);
    expect(found.range[1]).toBeCloseTo(Math.max(...kept), 12);
    expect(found).toMatchObject({
      kind: "regression-limits",
      n: x.length,
      subjects: eyes === 1 ? 300 : 180,
    });
    for (const side of [0, 1] as const) {
      const line = [found.lower, found.upper][side];
      expect(line.intercept).toBeCloseTo(height + found.quantiles[side] * size, 9);
      expect(line.slope).toBeCloseTo(slope + found.quantiles[side] * growth, 9);
    }
  });

  it("errors of the lines", () => {
    const errors = [
      [found.intercept, slow.seOf(([a]) => a)],
      [found.spreadIntercept, slow.seOf(([, , s]) => s)],
      [found.spreadSlope, slow.seOf(([, , , t]) => t)],
      ...(design === "sites" ? [] : ([[found.slope, slow.seOf(([, b]) => b)]] as const)),
      ...found.points.map(
        ({ bias, at: place }) => [bias, slow.seOf(([a, b]) => a + b * place)] as const,
      ),
    ] as const;
    for (const [estimate, se] of errors) {
      expect(estimate.se! / se).toBeCloseTo(1, 6);
      expect(estimate.high - estimate.value).toBeCloseTo(slow.t * se, 6);
      expect(estimate.value - estimate.low).toBeCloseTo(slow.t * se, 6);
      expect(estimate.method).toBe(
        { rows: "t-robust", children: "t-cluster-robust", sites: "t-sites" }[design],
      );
    }
  });

  it("both limits at a magnitude: errors of the lines and of the quantile, with what they share", () => {
    for (const point of found.points) {
      for (const side of [0, 1] as const) {
        const limit = [point.lower, point.upper][side];
        const [value, low, high, level] = slow.ends(side, point.at, slow.t, 0.95, whose);
        expect(limit.kind).toBe("estimate");
        expect(limit.value).toBeCloseTo(value, 9);
        expect(limit.low).toBeCloseTo(low, 5);
        expect(limit.high).toBeCloseTo(high, 5);
        expect(limit.level).toBe(level);
      }
    }
  });

  it("the band: F of 2 and the same distance for a quantile", () => {
    const { band } = found;
    if (band.kind === "undefined") {
      // unequal sites count as fewer than there are
      expect(design).toBe("sites");
      expect(effective).toBeLessThan(20);
      expect(band.reason).toBe(
        `sites that count as ${effective.toFixed(1)}: below 20 the band covers too little`,
      );
      return;
    }
    // For 2 and m degrees of freedom the quantile of F has a closed form.
    const reach = Math.sqrt(df * (0.025 ** (-2 / df) - 1));
    const own = 2 * normalCdf(Math.sqrt(-2 * Math.log(0.025))) - 1;
    expect(band.points.length).toBeGreaterThan(10);
    for (const point of [band.points[3], band.points.at(-1)!]) {
      const [, low, high, lowerLevel] = slow.ends(0, point.at, reach, own, whose);
      expect(point.lower[0]).toBeCloseTo(low, 5);
      expect(point.lower[1]).toBeCloseTo(high, 5);
      const [, from, to, upperLevel] = slow.ends(1, point.at, reach, own, whose);
      expect(point.upper[0]).toBeCloseTo(from, 5);
      expect(point.upper[1]).toBeCloseTo(to, 5);
      expect(band.level).toBeCloseTo(0.95 - (own - lowerLevel) - (own - upperLevel), 12);
    }
    const steps = band.points.slice(1).map(({ at: place }, k) => place - band.points[k].at);
    for (const one of steps) {
      expect(one).toBeCloseTo((found.range[1] - found.range[0]) / 20, 10);
    }
    expect(band.points.at(-1)!.at).toBeCloseTo(found.range[1], 10);
  });
});
