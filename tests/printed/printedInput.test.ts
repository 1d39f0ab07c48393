import { describe, expect, it } from "vitest";
import {
  checkPrintedLimits,
  checkPrintedMean,
  comparePrinted,
  matchIntervalMethod,
  possibleFractions,
  readPrintedRows,
  reconstructTwoByTwo,
  sdFromLimits,
} from "../../src/printed/index.js";
import { wrong } from "../builders/wrong.js";

const table = { truePositive: 1, falsePositive: 1, falseNegative: 1, trueNegative: 1 };

describe("printed numbers as they stand", () => {
  it.each([
    ["−0.34", "−1.26", "0.58"],
    ["-0·34", "–1·26", "+0·58"],
  ])("minus signs, dashes and raised points: %s", (bias, low, high) => {
    expect(checkPrintedLimits({ bias, low, high }).biasIsMidpoint).toBe(true);
  });

  it("a percent sign says percent, and a lone .97 asks", () => {
    const ask = { n: 100, printed: { sensitivity: ".97" } };
    expect(() => reconstructTwoByTwo(ask)).toThrow(/requires unit: "percent" or "proportion"/);
    expect(
      reconstructTwoByTwo({ ...ask, withCondition: 100, unit: "proportion" }).tables[0],
    ).toMatchObject({ truePositive: 97 });
    expect(possibleFractions({ printed: "0.97 %", totals: 103 }).fractions[0]).toMatchObject({
      part: 1,
    });
  });

  it("trailing zeros count", () => {
    const of = (printed: string) =>
      possibleFractions({ printed, totals: { from: 1, to: 150 } }).count;
    expect(of("50")).toBeGreaterThan(of("50.00"));
  });
});

describe("what cannot be read is said", () => {
  it.each([
    ["a comma", () => reconstructTwoByTwo({ n: 10, printed: { sensitivity: "87,04" } }), /"87,04"/],
    [
      "no string",
      () => reconstructTwoByTwo({ n: 10, printed: { sensitivity: wrong(90.5) } }),
      /number 90.5/,
    ],
    [
      "above 100",
      () => reconstructTwoByTwo({ n: 10, printed: { sensitivity: "101" } }),
      /from 0 to 100/,
    ],
    [
      "unknown measure",
      () => reconstructTwoByTwo({ n: 10, printed: wrong({ sens: "90" }) }),
      /got sens/,
    ],
    ["nothing printed", () => reconstructTwoByTwo({ n: 10, printed: {} }), /at least one printed/],
    ["no printed", () => reconstructTwoByTwo(wrong({ n: 10 })), /requires printed/],
    [
      "fraction n",
      () => reconstructTwoByTwo({ n: 10.5, printed: { sensitivity: "90" } }),
      /requires n .*10.5/,
    ],
    [
      "margin above n",
      () => reconstructTwoByTwo({ n: 10, withCondition: 11, printed: { sensitivity: "90" } }),
      /withCondition/,
    ],
    [
      "intervals without method",
      () =>
        reconstructTwoByTwo({
          n: 10,
          printed: { sensitivity: "90" },
          intervals: { sensitivity: { low: "1", high: "2" } },
        }),
      /requires interval /,
    ],
    [
      "too open",
      () => reconstructTwoByTwo({ n: 1_000_000, printed: { overallAccuracy: "90" } }),
      /counts to look at/,
    ],
    [
      "eight decimals",
      () => reconstructTwoByTwo({ n: 10, printed: { sensitivity: "90.1234567" } }),
      /at most 6 decimals/,
    ],
    [
      "limits as numbers",
      () => checkPrintedLimits({ bias: wrong(0.3), low: "1", high: "2" }),
      /requires bias as a printed number/,
    ],
    [
      "n of 1",
      () => checkPrintedLimits({ bias: "0", low: "-1", high: "1", n: 1 }),
      /n as a whole number of 2/,
    ],
    [
      "negative SD",
      () => checkPrintedLimits({ bias: "0", low: "-1", high: "1", sd: "-1" }),
      /sd of 0 or more/,
    ],
    [
      "half an interval",
      () => checkPrintedMean({ mean: "1", n: 5, low: "0" }),
      /both low and high/,
    ],
    ["no step", () => checkPrintedMean({ mean: "1", n: 5, step: 0 }), /step above 0/],
    ["reversed limits", () => sdFromLimits({ low: "2", high: "1" }), /low up to high/],
    [
      "unknown method measure",
      () => matchIntervalMethod({ table, measure: wrong("auc"), printed: { low: "1", high: "2" } }),
      /requires measure/,
    ],
    [
      "unit of limits",
      () =>
        matchIntervalMethod({ table, measure: "sensitivity", printed: { low: ".1", high: ".9" } }),
      /requires unit/,
    ],
    ["total of 0", () => possibleFractions({ printed: "50", totals: 0 }), /totals/],
  ])("%s", (_, call, message) => {
    expect(call).toThrow(message);
    expect(call).toThrow(/requires/);
  });

  it.each([
    ["", /empty text/],
    ["label,n", /heading only/],
    ["label,n,sens\nA,1,2", /got "sens"/],
    ["label,n,n\nA,1,2", /each column once/],
    ["label,n\n,5", /label of its own/],
    ["label,n\nA,5\nA,6", /"A" again in row 2/],
    ["label,n\nA,5,6", /even rows/],
    ["[]", /list of rows/],
    ["[1]", /object in each row/],
    ["[{", /requires JSON/],
    ['[{"label":"A","n":5,"sensitivity":90.5}]', /as a string in row 1/],
  ])("readPrintedRows(%j)", (text, message) => {
    expect(() => readPrintedRows(text)).toThrow(message);
  });

  it.each([
    ["label,n\nA,5", /row "A": requires a printed measure/],
    ["label,sensitivity\nA,90", /row "A": requires n, or the four cells/],
    ["label,n,sensitivity\nA,5,ninety", /row "A".*"ninety"/],
    ["label,n,sensitivity\nA,five,90", /row "A".*"five"/],
    ["label,n,sensitivity,unit\nA,5,90,per mille", /row "A".*"per mille"/],
    ["label,truePositive,sensitivity\nA,5,90", /all four cells/],
    ["label,bias\nA,0.1", /sd or limits beside bias/],
    ["label,bias,limits\nA,0.1,-1 - 1", /requires limits as/],
    ["label,bias,limits,printedAs\nA,0.1,-1 to 1,range", /printedAs/],
    ["label,mean\nA,0.1", /mean and n/],
    ["label,mean,n\nA,0.1,9", /interval, sd with se, or step/],
    ["label,screened,referralRate\nA,100,5", /referred within screened/],
    ["label,screened\nA,100", /requires a printed/],
    [
      "label,examined,withCondition,positivePredictiveValue\nA,5,6,90",
      /withCondition within examined/,
    ],
  ])("comparePrinted(%j)", (text, message) => {
    expect(() => comparePrinted(readPrintedRows(text))).toThrow(message);
  });
});
