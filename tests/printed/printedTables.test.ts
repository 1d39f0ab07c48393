import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import {
  checkPrintedLimits,
  checkPrintedMean,
  comparePrinted,
  limitsFromSd,
  matchIntervalMethod,
  type PrintedMeasure,
  possibleFractions,
  printedComparisonTable,
  readPrintedRows,
  reconstructTwoByTwo,
  sdFromLimits,
  sdFromMeanInterval,
} from "../../src/printed/index.js";
import type { TwoByTwo } from "../../src/results/index.js";
import { toMarkdown } from "../../src/tables/index.js";

// The printed numbers and their sources: data/published/README.md.

const typed = (name: string) =>
  readPrintedRows(
    readFileSync(new URL(`../../data/published/${name}.csv`, import.meta.url), "utf8"),
  );

const cells = (text: string): TwoByTwo => {
  const [truePositive, falsePositive, falseNegative, trueNegative] = text.split("/").map(Number);
  return {
    truePositive: truePositive!,
    falsePositive: falsePositive!,
    falseNegative: falseNegative!,
    trueNegative: trueNegative!,
  };
};

describe("reconstructTwoByTwo: the counts behind eight papers", () => {
  it("Geremias 2023: the only table of 185", () => {
    const found = reconstructTwoByTwo({
      n: 185,
      printed: {
        sensitivity: "100",
        specificity: "87.04",
        positivePredictiveValue: "52.27",
        negativePredictiveValue: "100",
      },
    });
    expect(found.kind).toBe("unique");
    expect(found.tables).toEqual([cells("23/21/0/141")]);
    expect(found.ties).toEqual([]);
  });

  it("Geremias 2023 without n: 185 is the smallest, and only its multiples fit up to 1,000", () => {
    const found = reconstructTwoByTwo({
      printed: {
        sensitivity: "100",
        specificity: "87.04",
        positivePredictiveValue: "52.27",
        negativePredictiveValue: "100",
      },
    });
    expect(found.n).toEqual({ low: 1, high: 1000 });
    expect(found.tables).toEqual(
      [1, 2, 3, 4, 5].map((times) => cells(`${23 * times}/${21 * times}/0/${141 * times}`)),
    );
  });

  const school = {
    sensitivity: "96",
    specificity: "87",
    positivePredictiveValue: "90",
    negativePredictiveValue: "94",
  };

  it("J AAPOS 2015: unique given 116 with the condition", () => {
    const found = reconstructTwoByTwo({ n: 209, withCondition: 116, printed: school });
    expect(found.kind).toBe("unique");
    expect(found.tables).toEqual([cells("111/12/5/81")]);
  });

  it("J AAPOS 2015 without it: seven tables, one on a rounding tie", () => {
    const found = reconstructTwoByTwo({ n: 209, printed: school });
    expect(found.kind).toBe("several");
    expect(found.count).toBe(7);
    expect(found.ties).toEqual([{ table: cells("108/12/5/84"), measures: ["specificity"] }]);
    // what is common to all
    expect(found.common).toEqual({
      truePositive: { low: 108, high: 114 },
      falsePositive: { low: 12, high: 12 },
      falseNegative: { low: 5, high: 5 },
      trueNegative: { low: 78, high: 84 },
    });
  });

  it("Nishimura 2019: two tables of 709; with all four intervals as Wilson none, below 709 some", () => {
    const printed = {
      sensitivity: "84",
      specificity: "49",
      positivePredictiveValue: "37",
      negativePredictiveValue: "90",
    };
    const intervals = {
      sensitivity: { low: "78", high: "89" },
      specificity: { low: "44", high: "53" },
      positivePredictiveValue: { low: "33", high: "42" },
      negativePredictiveValue: { low: "86", high: "93" },
    };
    const all = reconstructTwoByTwo({ n: 709, withCondition: 188, printed });
    expect(all.tables).toEqual([cells("158/264/30/257"), cells("158/265/30/256")]);
    const wilson = (n: number | { from: number; to: number }) =>
      reconstructTwoByTwo({ n, printed, intervals, interval: "wilson" });
    expect(wilson(709).kind).toBe("none");
    const fewer = wilson({ from: 659, to: 700 });
    expect(fewer.count).toBeGreaterThanOrEqual(12);
    for (const table of fewer.tables) {
      const n = Object.values(table).reduce((sum, cell) => sum + cell, 0);
      expect(n).toBeGreaterThanOrEqual(659);
      expect(n).toBeLessThanOrEqual(700);
    }
  });

  it("the readable clinic: five tables of 313, 111/44/13/145 among them", () => {
    const found = reconstructTwoByTwo({
      n: 313,
      printed: { sensitivity: "89.5", specificity: "76.7" },
    });
    expect(found.count).toBe(5);
    expect(found.tables).toContainEqual(cells("119/42/14/138"));
    expect(found.tables).toContainEqual(cells("111/44/13/145"));
  });

  const mu: [string, string, string][] = [
    ["hyperopia", "98.31", "97.14"],
    ["myopia", "78.50", "88.64"],
    ["astigmatism", "90.91", "80.37"],
    ["anisometropia", "93.10", "85.25"],
    ["strabismus", "77.55", "88.18"],
  ];

  it.each(mu)(
    "Mu 2016, %s: no table of 155 children or 310 eyes",
    (_, sensitivity, specificity) => {
      for (const n of [155, 310]) {
        const found = reconstructTwoByTwo({ n, printed: { sensitivity, specificity } });
        expect(found.kind).toBe("none");
        expect(found.tables).toEqual([]);
        expect(found.nearest.length).toBeGreaterThan(0);
        // each number alone can come from so many
        expect(found.withoutOne.map(({ measure }) => measure)).toEqual([
          "sensitivity",
          "specificity",
        ]);
      }
    },
  );

  it("decimals count: one zero less and one table of 310 fits", () => {
    const found = reconstructTwoByTwo({
      n: 310,
      printed: { sensitivity: "93.1", specificity: "85.25" },
    });
    expect(found.tables).toEqual([cells("175/18/13/104")]);
  });

  it.each([
    [".97", ".87", "182/15/6/97"],
    [".74", ".62", "139/43/49/69"],
  ])(
    "JAMA Ophthalmol 2014: four tables each, printed as proportions",
    (sensitivity, specificity, one) => {
      const found = reconstructTwoByTwo({
        n: 300,
        withCondition: 188,
        printed: { sensitivity, specificity },
        unit: "proportion",
      });
      expect(found.count).toBe(4);
      expect(found.tables).toContainEqual(cells(one));
    },
  );

  it("Strabismus 2001: no table of the 302 examined, since the figures are corrected ones", () => {
    const printed = {
      sensitivity: "46",
      specificity: "97",
      positivePredictiveValue: "55",
      negativePredictiveValue: "96",
    };
    expect(
      reconstructTwoByTwo({ n: 302, printed: { ...printed, positiveLikelihoodRatio: "15" } }).kind,
    ).toBe("none");
    expect(
      reconstructTwoByTwo({
        n: 302,
        printed: {
          sensitivity: "37",
          specificity: "99",
          positivePredictiveValue: "69",
          negativePredictiveValue: "96",
          positiveLikelihoodRatio: "37",
        },
      }).kind,
    ).toBe("none");
  });

  it("Optom Vis Sci 2021: 76 and 74 for one test; the other's specificity comes from no 74", () => {
    const printed = { sensitivity: "82.9", specificity: "82.4" };
    expect(reconstructTwoByTwo({ n: 150, withCondition: 76, printed }).tables).toEqual([
      cells("63/13/13/61"),
    ]);
    const other = reconstructTwoByTwo({
      n: 150,
      withCondition: 76,
      printed: { sensitivity: "86.8", specificity: "82.0" },
    });
    expect(other.kind).toBe("none");
    // the specificity set aside, 66 of 76 is left; the sensitivity set aside, nothing is
    expect(other.withoutOne.map(({ measure }) => measure)).toEqual(["specificity"]);
    expect(other.withoutOne[0]!.tables[0]!.truePositive).toBe(66);
    expect(possibleFractions({ printed: "82.0", totals: 74 }).count).toBe(0);
    // 76 of 150 is the only split with both sensitivities and one of the specificities
    const splits = Array.from({ length: 149 }, (_, at) => at + 1).filter(
      (cases) =>
        possibleFractions({ printed: "86.8", totals: cases }).count > 0 &&
        possibleFractions({ printed: "82.9", totals: cases }).count > 0 &&
        (possibleFractions({ printed: "82.4", totals: 150 - cases }).count > 0 ||
          possibleFractions({ printed: "82.0", totals: 150 - cases }).count > 0),
    );
    expect(splits).toEqual([76]);
  });

  it("the thesis: cases and referrals belong together", () => {
    for (const [withCondition, testPositive, sensitivity, value, hits] of [
      [164, 173, "26.8", "25.4", 44],
      [134, 123, "20.1", "22.0", 27],
    ] as const) {
      const found = reconstructTwoByTwo({
        n: { from: 5000, to: 6000 },
        withCondition,
        testPositive,
        printed: { sensitivity, positivePredictiveValue: value, negativePredictiveValue: "97.8" },
      });
      expect(found.common!.truePositive).toEqual({ low: hits, high: hits });
    }
  });
});

describe("possibleFractions", () => {
  it.each([
    ["18.2", 55, [10]],
    ["15.3", 59, [9]],
    // 53.9 % of 379 pairs of readings cannot be: 204 are 53.8 %, 205 are 54.1 %
    ["53.9", 379, []],
  ])(
    "kindergarten studies (pmid 14669034, ARVO abstract 2418776): %s %% of %i",
    (printed, totals, parts) => {
      const found = possibleFractions({ printed, totals });
      expect(found.fractions.map(({ part }) => part)).toEqual(parts);
    },
  );

  it("313 of 330 are 95 %, readings of 97 % and 54 % of the same students", () => {
    expect(possibleFractions({ printed: "95", totals: 330 }).fractions).toContainEqual({
      part: 313,
      total: 330,
      tie: false,
    });
    expect(
      possibleFractions({ printed: "55", totals: 209 }).fractions.map(({ part }) => part),
    ).toEqual([114, 115, 116].filter((part) => Math.round((100 * part) / 209) === 55));
  });

  it("a tie fits both numbers", () => {
    for (const printed of ["12", "13"]) {
      expect(possibleFractions({ printed, totals: 8 }).fractions).toEqual([
        { part: 1, total: 8, tie: true },
      ]);
    }
  });
});

describe("matchIntervalMethod", () => {
  const matched = (
    table: TwoByTwo,
    measure: PrintedMeasure,
    low: string,
    high: string,
    unit: "percent" | "proportion" = "percent",
  ) =>
    matchIntervalMethod({ table, measure, printed: { low, high }, unit }).matches.map(
      ({ method, level }) => `${method} ${level}`,
    );

  it("Geremias 2023: Clopper-Pearson twice, Mercaldo for the predictive value", () => {
    const table = cells("23/21/0/141");
    expect(matched(table, "sensitivity", "85.18", "100")).toEqual(["clopper-pearson 0.95"]);
    expect(matched(table, "specificity", "80.87", "91.79")).toEqual(["clopper-pearson 0.95"]);
    expect(matched(table, "positivePredictiveValue", "42.36", "62.01")).toEqual([
      "mercaldo-logit 0.95",
    ]);
  });

  it("Law 2020: three intervals on the scale of the logarithm, and no other method", () => {
    for (const [part, total, low, high] of [
      [57, 115, "41", "60"],
      [8, 31, "14", "47"],
      [12, 16, "57", "100"],
    ] as const) {
      const table = cells(`${part}/${total - part}/0/0`);
      expect(matched(table, "positivePredictiveValue", low, high)).toEqual(["log 0.95"]);
    }
  });

  it("logit and log limits are those of R's binomial regression", () => {
    // R 4.2.2: plogis(confint.default(glm(cbind(57, 58) ~ 1, binomial))), and exp(...) with
    // link = "log", epsilon = 1e-15 and level = 0.9 for 8 of 31
    const { nearest, matches } = matchIntervalMethod(
      {
        table: cells("57/58/0/0"),
        measure: "positivePredictiveValue",
        printed: { low: "40.5418", high: "58.6171" },
      },
      { levels: [0.95] },
    );
    expect(nearest.length).toBeGreaterThan(0);
    const logit = matches.find(({ method }) => method === "logit")!;
    expect(logit.low).toBeCloseTo(0.405417824697, 9);
    expect(logit.high).toBeCloseTo(0.586170644623, 9);
    const log = matchIntervalMethod(
      {
        table: cells("8/23/0/0"),
        measure: "positivePredictiveValue",
        printed: { low: "15.6381", high: "42.5867" },
      },
      { levels: [0.9] },
    ).matches[0]!;
    expect(log.method).toBe("log");
    expect(log.low).toBeCloseTo(0.156380653197, 9);
    expect(log.high).toBeCloseTo(0.425866583387, 9);
  });

  it("finds its own intervals: every measure, method and level", () => {
    const table = cells("389/92/15/575");
    const measures: PrintedMeasure[] = [
      "sensitivity",
      "specificity",
      "positivePredictiveValue",
      "negativePredictiveValue",
      "prevalence",
      "referralRate",
      "overallAccuracy",
      "positiveLikelihoodRatio",
      "negativeLikelihoodRatio",
      "diagnosticOddsRatio",
      "youdenIndex",
    ];
    for (const measure of measures) {
      const everything = matchIntervalMethod({
        table,
        measure,
        printed: { low: "0", high: "0" },
        unit: "proportion",
      });
      const tried = [...everything.matches, ...everything.truncated, ...everything.nearest];
      expect(tried.length).toBeGreaterThan(0);
      for (const { method, level, low, high } of tried) {
        expect(matched(table, measure, low.toFixed(6), high.toFixed(6), "proportion")).toContain(
          `${method} ${level}`,
        );
      }
    }
  });

  it("digits cut off instead of rounded are told apart", () => {
    // Wilson for 256 of 521: 44.8656 to 53.4196 %
    const fitting = (low: string, high: string) =>
      matchIntervalMethod(
        {
          table: cells("256/265/0/0"),
          measure: "positivePredictiveValue",
          printed: { low, high },
        },
        { levels: [0.95] },
      );
    const has = (tried: readonly { method: string }[]) =>
      tried.some(({ method }) => method === "wilson");
    expect(has(fitting("44.87", "53.42").matches)).toBe(true);
    expect(has(fitting("44.86", "53.42").truncated)).toBe(true);
    expect(has(fitting("44.86", "53.42").matches)).toBe(false);
    expect(has(fitting("44.88", "53.42").truncated)).toBe(false);
  });

  it("a measure that is 0 of 0 has a reason, no match", () => {
    const found = matchIntervalMethod({
      table: cells("5/5/0/0"),
      measure: "negativePredictiveValue",
      printed: { low: "10", high: "20" },
    });
    expect(found.value).toMatchObject({ kind: "undefined" });
    expect(found.matches).toEqual([]);
  });
});

describe("checkPrintedLimits and checkPrintedMean: thirty printed rows", () => {
  const rows = new Map(typed("agreement").map((row) => [row.label, row.cells]));
  const checked = (label: string) => {
    const row = rows.get(label)!;
    const [low, high] = row.limits!.split(" to ");
    return checkPrintedLimits({
      bias: row.bias!,
      low: low!,
      high: high!,
      ...(row.n ? { n: Number(row.n) } : {}),
      ...(row.sd ? { sd: row.sd } : {}),
      ...(row.printedAs ? { printedAs: row.printedAs as "limits of agreement" } : {}),
    });
  };

  it("holds all thirty", () => expect(rows.size).toBe(30));

  it.each([
    ["Preschool study: sphere", ["2 SD"]],
    ["School 2021: autorefraction", ["1.96 SD"]],
    ["School 2021: retinoscopy", ["1.96 SD"]],
    ["School 2021: autorefraction minus retinoscopy", ["1.96 SD"]],
    ["Students: spherical equivalent", ["1.96 SD"]],
    ["Students: cylinder", ["1.96 SD"]],
    ["Table 6: adults, first", ["2 SD"]],
    ["Table 6: adults, second", ["2 SD"]],
    ["Table 6: children, retinoscopy", ["2 SD"]],
    ["Table 6: children, subjective", ["2 SD"]],
    ["Three autorefractors 2017: first and third", ["1.96 SD"]],
    // small SDs: both multipliers round to the printed limits
    ["Preschool study: cylinder", ["1.96 SD", "2 SD"]],
    ["Students: J0", ["1.96 SD", "2 SD"]],
    ["Students: J45", ["1.96 SD", "2 SD"]],
    ["Three autorefractors 2017: first and second", ["1.96 SD", "2 SD"]],
    ["Three autorefractors 2017: second and third", ["1.96 SD", "2 SD"]],
  ])("%s: %j", (label, fits) => {
    const found = checked(label);
    expect(found.biasIsMidpoint).toBe(true);
    expect(found.fits).toEqual(fits);
    expect(found.readAs).toBe("limits of agreement");
  });

  it.each(["School 2021: autorefraction", "School 2021: retinoscopy"])(
    "%s: called a confidence interval",
    (label) => expect(checked(label).mislabelled).toBe(true),
  );

  it.each([
    ["Primary school: retinoscopy", 0.541, 0.53],
    ["Primary school: autorefraction", 1.038, 1.018],
    ["Two autorefractors 2017: spherical equivalent", 0.408, 0.4],
    ["Two autorefractors 2017: difference between the eyes", 0.439, 0.43],
    ["Pilot of two: sphere", 1.097, 1.075],
    ["Pilot of two: cylinder", 0.378, 0.37],
  ])("%s: SD from the limits", (label, normal, two) => {
    const [low, high] = rows.get(label)!.limits!.split(" to ");
    expect(sdFromLimits({ low: low!, high: high! }).value).toBeCloseTo(normal, 3);
    expect(sdFromLimits({ low: low!, high: high! }, { multiplier: 2 }).value).toBeCloseTo(two, 3);
    expect(checked(label).readAs).toBe("undecided");
  });

  it("lost minus signs: one, and two", () => {
    expect(checked("Two autorefractors 2017: sphere").lostMinus).toEqual([["low"]]);
    expect(checked("Two autorefractors 2017: cylinder").lostMinus).toEqual([["bias", "low"]]);
    expect(checkPrintedLimits({ bias: "0.34", low: "-0.46", high: "1.14" }).lostMinus).toEqual([]);
  });

  it.each([
    ["Children 2004", -3.131, 0.671],
    ["Right eyes 2019", -0.528, 1.628],
    ["Hyperopia 2016", -1.896, 3.356],
    ["Simulated example 2020", -1.511, 1.351],
  ])("%s: limits from bias and SD", (label, low, high) => {
    const row = rows.get(label)!;
    const limits = limitsFromSd({ bias: row.bias!, sd: row.sd! });
    expect(limits.low.value).toBeCloseTo(low, 3);
    expect(limits.high.value).toBeCloseTo(high, 3);
  });

  it("Sankaridurg 2017: rounding of mean and SD alone allows the printed interval", () => {
    const found = checkPrintedMean({
      mean: "-0.63",
      sd: "0.65",
      n: 6017,
      low: "-0.65",
      high: "-0.612",
    });
    expect(found.meanIsMidpoint).toBe(true);
    expect(found.intervalFits).toContain("normal");
    // mean -.6288, SD .655: limits -.6454 (prints -0.65) and -.6123 (prints -0.612)
    const [mean, reach] = [-0.6288, (1.959964 * 0.6549) / Math.sqrt(6017)];
    expect((mean - reach).toFixed(2)).toBe("-0.65");
    expect((mean + reach).toFixed(3)).toBe("-0.612");
    // a third decimal of the lower limit would have shown a slip
    expect(
      checkPrintedMean({ mean: "-0.630", sd: "0.650", n: 6017, low: "-0.646", high: "-0.612" })
        .intervalFits,
    ).toEqual([]);
  });

  it("Srinivasan 2016: SD about 1.25 from the interval of the mean", () => {
    expect(sdFromMeanInterval({ low: "0.86", high: "1.17", n: 249 }).value).toBeCloseTo(1.242, 3);
    expect(
      checkPrintedMean({ mean: "1.02", n: 249, low: "0.86", high: "1.17" }).meanIsMidpoint,
    ).toBe(true);
  });

  it("names what is computed: a confidence interval called limits, limits called an interval", () => {
    // 0.30 ± 1.96 x 0.50 / 10, and ± 1.96 x 0.50
    const interval = { bias: "0.30", sd: "0.50", n: 100, low: "0.20", high: "0.40" };
    const found = checkPrintedLimits({ ...interval, printedAs: "limits of agreement" });
    expect(found.readAs).toBe("confidence interval");
    expect(found.mislabelled).toBe(true);
    expect(checkPrintedLimits({ ...interval, printedAs: "confidence interval" }).mislabelled).toBe(
      false,
    );
    expect(
      checkPrintedMean({ mean: "0.30", sd: "0.50", n: 100, low: "-0.68", high: "1.28" })
        .intervalFits,
    ).toEqual(["limits of agreement"]);
    expect(
      checkPrintedMean({ mean: "0.30", sd: "0.05", n: 100, low: "0.20", high: "0.40" })
        .sdIsStandardError,
    ).toBe(true);
    expect(checkPrintedMean({ mean: "0.30", sd: "0.50", se: "0.05", n: 100 }).seIsConsistent).toBe(
      true,
    );
    expect(checkPrintedMean({ mean: "0.30", sd: "0.50", se: "0.07", n: 100 }).seIsConsistent).toBe(
      false,
    );
  });

  it("limits in the wrong order, and limits that are neither", () => {
    expect(checkPrintedLimits({ bias: "0.10", low: "0.90", high: "-0.70" }).swapped).toBe(true);
    const neither = checkPrintedLimits({
      bias: "0.00",
      low: "-1.50",
      high: "1.50",
      sd: "0.50",
      n: 100,
    });
    expect(neither.readAs).toBe("neither");
    expect(neither.findings.join()).toContain("neither 1.96 nor 2");
    // Student's quantile at n = 5 is 2.78
    expect(
      checkPrintedLimits({ bias: "0.00", low: "-1.39", high: "1.39", sd: "0.50", n: 5 }).fits,
    ).toEqual(["t SD"]);
  });
});

describe("comparePrinted", () => {
  it("the two-by-two tables: what reproduces, cell by cell", () => {
    const { rows } = comparePrinted(typed("accuracy"));
    const verdicts = (label: string) =>
      Object.fromEntries(
        rows.filter((row) => row.label === label).map(({ item, verdict }) => [item, verdict]),
      );
    expect(Object.values(verdicts("Clinic 2023")).filter((v) => v !== "derived")).toEqual(
      Array(7).fill("reproduced"),
    );
    expect(verdicts("Kindergarten 2019")["specificity, interval"]).toBe("undecided");
    expect(verdicts("School 2021, retinoscopy").specificity).toBe("not reproduced");
    expect(
      rows.find((row) => row.label === "School 2021, retinoscopy" && row.item === "specificity"),
    ).toMatchObject({ recomputed: "81.1 or 82.4" });
    expect(
      rows.find((row) => row.label === "Preschool 2001, hyperopia" && row.item === "sensitivity"),
    ).toMatchObject({ recomputed: "48", verdict: "undecided" });
  });

  it("the programmes: shares, intervals and bounds", () => {
    const { rows, notReproduced } = comparePrinted(typed("programmes"));
    expect(notReproduced).toBe(0);
    const of = (label: string, item: string) =>
      rows.find((row) => row.label === label && row.item === item);
    expect(of("Primary care 2020", "positive predictive value")).toMatchObject({
      recomputed: "49.6",
      verdict: "reproduced",
    });
    expect(of("Primary care 2020", "positive predictive value, interval")).toMatchObject({
      cause: "log",
      verdict: "reproduced",
    });
    expect(of("Primary care 2020", "positive predictive value, bounds")).toMatchObject({
      recomputed: "33.1 to 66.3",
      verdict: "derived",
    });
    expect(of("43 schools 2020", "positive predictive value, bounds")).toMatchObject({
      recomputed: "22.8 to 53.8",
    });
  });

  it("the agreement rows: two with lost signs, all others reproduced", () => {
    const { rows } = comparePrinted(typed("agreement"));
    const off = rows.filter(({ verdict }) => verdict === "not reproduced");
    expect(off.map(({ label }) => label)).toEqual([
      "Two autorefractors 2017: sphere",
      "Two autorefractors 2017: cylinder",
    ]);
    expect(off.every(({ cause }) => cause.includes("lost"))).toBe(true);
  });

  it("prints as a table with the caution", () => {
    const comparison = comparePrinted(typed("programmes"));
    const table = printedComparisonTable(comparison, { title: "Programmes" });
    expect(table.notes.at(-1)).toContain("Research use only");
    const text = toMarkdown(table);
    expect(text).toContain("| positive predictive value, bounds |  | 33.1 to 66.3 |");
    for (const row of table.rows) expect(row.cells).toHaveLength(table.columns.length);
  });

  it("CSV and JSON say the same", () => {
    const csv = 'label,n,sensitivity,specificity\nA,185,"100 (85.18, 100)",87.04\n';
    const json = JSON.stringify([
      { label: "A", n: 185, sensitivity: "100 (85.18, 100)", specificity: "87.04" },
    ]);
    expect(readPrintedRows(json)).toEqual(readPrintedRows(csv));
    expect(comparePrinted(readPrintedRows(json))).toEqual(comparePrinted(readPrintedRows(csv)));
  });

  it("reads raised points and other minus signs as points and minus signs everywhere", () => {
    const compare = (text: string) =>
      comparePrinted(
        readPrintedRows(
          `label,n,mean,sd,se,interval,bias,limits,step,sensitivity,withCondition\n${text}`,
        ),
      ).rows.map(({ recomputed, difference, verdict }) => ({ recomputed, difference, verdict }));
    const rows = [
      "A,100,-0.30,0.50,,-0.40 to -0.20,,,0.25,,",
      "B,100,-0.30,0.50,0.05,-0.40 to -0.20,,,,,",
      "C,100,,0.50,,,-0.30,-1.28 to 0.68,,,",
      "D,100,,,,,,,,87.5 (73.2-95.8),40",
    ].join("\n");
    const raised = rows.replace(/-(?=\d\.)/g, "\u2212").replace(/(\d)\.(\d)/g, "$1\u00b7$2");
    expect(compare(raised)).toEqual(compare(rows));
    expect(JSON.stringify(compare(raised))).not.toContain("NaN");
    expect(compare(raised)[0]).toMatchObject({ recomputed: "-0.40 to -0.20" });
  });

  it("four given cells need no n", () => {
    const { rows } = comparePrinted(
      readPrintedRows(
        "label,truePositive,falsePositive,falseNegative,trueNegative,sensitivity\nA,23,21,0,141,99",
      ),
    );
    expect(rows).toMatchObject([{ item: "sensitivity", verdict: "not reproduced", difference: 1 }]);
  });
});

describe("the remaining printed rows", () => {
  it("preschool programme 2012 to 2014 (ISRN Ophthalmol 2014, 793546, table 2): totals and rates", () => {
    const years = [
      [2796, 639],
      [3304, 787],
      [3357, 774],
      [2945, 818],
    ];
    expect(years.reduce((sum, [screened]) => sum + screened!, 0)).toBe(12402);
    const rows = comparePrinted(
      readPrintedRows(
        `label,screened,referred,referralRate\n${years.map(([screened, referred], at) => `year ${at + 1},${screened},${referred},${["22.9", "23.8", "23.1", "27.8"][at]}`).join("\n")}\nall,12402,3018,24.33`,
      ),
    );
    expect(rows.reproduced).toBe(5);
  });

  it("Langeslag-Smith 2015: 31 % (26-38) of 556 is wider than any interval of independent children", () => {
    const hits = possibleFractions({ printed: "31", totals: 556 }).fractions;
    expect(hits.length).toBeGreaterThan(0);
    for (const { part, total } of hits) {
      const table = cells(`${part}/${total - part}/0/0`);
      const found = matchIntervalMethod({
        table,
        measure: "positivePredictiveValue",
        printed: { low: "26", high: "38" },
      });
      expect(found.matches.filter(({ level }) => level === 0.95)).toEqual([]);
    }
  });

  it("Longmuir 2010: two shares of exams, 24.3 and 76.7 %, cannot be parts of one whole", () => {
    // for every total up to 2,000, no part prints as the one and the rest as the other
    for (let total = 1; total <= 2000; total += 1) {
      const parts = possibleFractions({ printed: "24.3", totals: total }).fractions;
      const rest = possibleFractions({ printed: "76.7", totals: total }).fractions;
      const pairs = parts.filter(({ part }) => rest.some((other) => other.part + part === total));
      expect(pairs).toEqual([]);
    }
  });

  it("zero missed of 23: Clopper and Pearson from 85.19 %", () => {
    const { matches } = matchIntervalMethod({
      table: cells("23/0/0/100"),
      measure: "sensitivity",
      printed: { low: "85.18", high: "100" },
    });
    expect(matches[0]!.low).toBeCloseTo(0.025 ** (1 / 23), 10);
  });

  it("bounds 33.14 to 66.28 %: 57 of 172 and 57 plus 57 of 172", () => {
    expect(possibleFractions({ printed: "33.14", totals: 172 }).fractions[0]!.part).toBe(57);
    expect(possibleFractions({ printed: "66.28", totals: 172 }).fractions[0]!.part).toBe(114);
  });

  it("school myopia screening, n 6017, prevalence 31.8 %: acuity found 1,870 of about 1,913", () => {
    const found = reconstructTwoByTwo({
      n: 6017,
      printed: { sensitivity: "97.7", specificity: "33.1", prevalence: "31.8" },
    });
    expect(found.common!.truePositive.low).toBeGreaterThan(1860);
    expect(found.common!.truePositive.high).toBeLessThan(1880);
  });
});

// Before a bound on all counts that are looked at, this search took ten minutes.
it("ends where no table can print a ratio, and names it", () => {
  const found = reconstructTwoByTwo({
    n: 2000,
    printed: { sensitivity: "91.3", specificity: "91.0", positiveLikelihoodRatio: "99999999999" },
  });
  expect(found.kind).toBe("none");
  expect(found.nearest).toEqual([]);
  expect(found.withoutOne.map(({ measure }) => measure)).toEqual(["positiveLikelihoodRatio"]);
});
