import { describe, expect, it } from "vitest";
import { guarded } from "../../src/boundary/index.js";
import * as api from "../../src/face.js";
import { notFinite, variantsOf } from "./degenerate.js";

const test = [1, 2, 3, 4];
const reference = [1, 2, 2, 4];
const holed = [1, 2, 3];
delete holed[1];
// biome-ignore lint/suspicious/noExplicitAny: what no type allows
const loose = api as any;

describe("the boundary of values", () => {
  it.each([
    [
      "null in a column",
      () => loose.limitsOfAgreement({ test: [1, null, 3, 4], reference }),
      "limitsOfAgreement requires a number in test, got null in row 1; leave the row out, or decide beforehand how it counts",
    ],
    [
      "true in a column",
      () => loose.biasBy({ test: [1, 2, true, 4], reference, by: [1, 1, 2, 2] }, { label: "x" }),
      "biasBy requires a number in test, got true in row 2; leave the row out, or decide beforehand how it counts",
    ],
    [
      "null as acuity",
      () => loose.logMARToDecimal(null),
      "logMARToDecimal requires a number in logMAR, got null",
    ],
    [
      "a hole",
      () => loose.toPowerVectors({ sphere: holed, cylinder: [0, 0, 0], axis: [0, 0, 0] }),
      "toPowerVectors requires a number in sphere, got nothing in row 1; leave the row out, or decide beforehand how it counts",
    ],
    [
      "a misspelt key of data",
      () => loose.limitsOfAgreement({ test, reference, subject: [1, 1, 2, 2] }),
      'limitsOfAgreement requires known keys in data, got "subject"; did you mean "subjects"? there are',
    ],
    [
      "a misspelt option",
      () => loose.proportionInterval({ successes: 1, trials: 3 }, { intervall: "wald" }),
      'proportionInterval requires known keys in options, got "intervall"; did you mean "interval"? there are "interval", "level"',
    ],
    [
      "a word that is not among those",
      () => loose.proportionInterval({ successes: 1, trials: 3 }, { interval: "wilsn" }),
      /^proportionInterval requires .*"wilson".* in interval, got "wilsn"; did you mean "wilson"\?$/,
    ],
    [
      "a word for a column",
      () => loose.meanInterval("1234"),
      /^meanInterval requires a list of numbers in values, got "1234"$/,
    ],
    [
      "nothing at all",
      () => loose.limitsOfAgreement(),
      "limitsOfAgreement requires an object with test, reference in data, got nothing",
    ],
    [
      "a misspelt key of what was made",
      () => loose.limitsOfAgreement({ kind: "eye-pairs", test, reference, subject: test }),
      /did you mean "subjects"/,
    ],
    [
      "a misspelt key where each form of an option needs another one",
      () => loose.planAgreementStudy({ expected: { sd: 0.5 }, aim: { halfwidth: 0.1 } }),
      'planAgreementStudy requires known keys in aim, got "halfwidth"; did you mean "halfWidth"?',
    ],
    [
      "a number too large",
      () => api.meanInterval([1, 2, 1e60]),
      /requires numbers up to 1e\+?50 in values, got 1e\+60 in row 2/,
    ],
  ])("refuses %s", (_, call, message) => {
    expect(call).toThrow(api.InputError);
    expect(call).toThrow(message);
  });

  it("rejects where the function gives a promise", async () => {
    await expect(loose.readReadings(5)).rejects.toThrow("readReadings requires");
  });

  it("leaves in what is right, former names and what the package made", () => {
    const twice = { successes: 81, trials: 263 };
    expect(loose.proportionInterval(twice, { method: "wald" })).toEqual(
      api.proportionInterval(twice, { interval: "wald" }),
    );
    const made = { kind: "eye-pairs", test, reference, excluded: { noReading: 0 } };
    expect(loose.limitsOfAgreement(made).n).toBe(4);
    expect(api.limitsOfAgreement({ test: Float64Array.from(test), reference }).n).toBe(4);
  });

  it("keeps what is no function, and the name of what is", () => {
    const face = { one: 1, limitsOfAgreement: () => 2, InputError: api.InputError };
    const checked = guarded(face);
    expect(checked.one).toBe(1);
    expect(checked.InputError).toBe(api.InputError);
    expect(checked.limitsOfAgreement.name).toBe("limitsOfAgreement");
    expect(() => checked.limitsOfAgreement()).toThrow("requires an object with test, reference");
  });
});

describe("what the package gave back", () => {
  const eye = { subject: "a", eye: "OD", sphere: -1, cylinder: 0, axis: 0 };
  const tables = async () => ({
    readings: await api.readReadings([eye]),
    findings: await api.readFindings([eye]),
  });

  it("is handed on as it stands, in as many steps as one likes", async () => {
    const { readings, findings } = await tables();
    const cohort = api.linkCohort({ readings, findings });
    expect(api.eyePairs(cohort, { eyes: "both" }).test).toHaveLength(1);
    // not looked through again: what it holds is not asked for, not even once
    let asked = 0;
    const flow = cohort.flow;
    Object.defineProperty(cohort, "flow", {
      enumerable: true,
      get: () => {
        asked++;
        return flow;
      },
    });
    api.pairingReport(cohort);
    expect(asked).toBe(0);
    api.pairingReport({ ...cohort });
    expect(asked).toBeGreaterThan(0);
  });

  it("is refused where another kind is asked for", async () => {
    const { readings, findings } = await tables();
    expect(() => loose.describeCohort(readings)).toThrow(/describeCohort requires/);
    expect(() => loose.linkCohort({ readings: findings, findings })).toThrow(/linkCohort requires/);
  });

  it("is looked through as a copy, with what was changed in it", async () => {
    const { readings, findings } = await tables();
    const shorter = { ...readings, sphere: new Float64Array(0) };
    expect(() => api.linkCohort({ readings: shorter, findings })).toThrow(/0 rows of sphere/);
    const cohort = api.linkCohort({ readings, findings });
    expect(() => loose.describeCohort({ ...cohort, children: null })).toThrow(/children/);
    const { children } = cohort;
    const changed = (change: object) => ({ ...cohort, children: { ...children, ...change } });
    expect(() => api.describeCohort(changed({ ageMonths: new Float64Array(0) }))).toThrow(
      /0 rows of ageMonths for n 1/,
    );
    const rows = { right: Int32Array.of(7), left: children.readingRow.left };
    expect(() => api.describeCohort(changed({ readingRow: rows }))).toThrow(
      /no row 7 for readingRow/,
    );
    const status = { ...readings.status, codes: Uint8Array.of(99) };
    expect(() => api.linkCohort({ readings: { ...readings, status }, findings })).toThrow(
      /no word for row 0 of status/,
    );
  });
});

describe("degenerate variants", () => {
  it("reach every part of the arguments", () => {
    const whats = variantsOf("f", [{ test: [1, 2, 3] }, { level: 0.9 }]).map(({ what }) => what);
    for (const what of [
      "0: null",
      "0.test: a hole in row 1",
      "1.level: NaN",
      "0: 1 rows",
      "0: an unknown key",
    ]) {
      expect(whats).toContain(what);
    }
    expect(new Set(whats).size).toBe(whats.length);
  });

  it("find a number that is none", () => {
    expect(
      notFinite({ a: [1, { b: Number.NaN }], c: 1 / 0, d: new Float64Array([Number.NaN]) }),
    ).toEqual([".a[].b is NaN", ".c is Infinity"]);
  });
});
