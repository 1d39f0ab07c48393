import { expect, test } from "vitest";
import { biasBy, limitsOfAgreement } from "../../src/agreement/index.js";
import {
  type Coded,
  childValues,
  describeCohort,
  eyePairs,
  linkCohort,
  readFindings,
  readReadings,
} from "../../src/cohort/index.js";

// Invented children: what is the user's own is carried from the files to the pairs.

const columns = {
  kind: "columns",
  version: 1,
  columns: { subject: "id", eye: "eye" },
  readings: [
    {
      own: { sex: "sex", weight: { column: "w", type: "number" }, examiner: "who" },
      columns: { sphere: "s", cylinder: "c", axis: "a" },
    },
  ],
  findings: [
    {
      own: { sex: "sex", examiner: "doctor" },
      columns: { sphere: "S", cylinder: "C", axis: "A" },
    },
  ],
};
const eye = (id: string, eye: string, s: number, sex: string, w: number | "", who: string) => {
  return { id, eye, s, c: 0, a: 0, sex, w, who, S: s + 0.5, C: 0, A: 0, doctor: "d1" };
};
const rows = [
  eye("a", "OD", -1, "", 1.5, "x"),
  eye("a", "OS", -2, "f", 1.5, "y"),
  eye("b", "OD", -3, "m", "", "x"),
  eye("c", "OD", 0, "f", 3, "y"),
];
const link = async (more: object = {}) =>
  linkCohort({
    readings: await readReadings(rows, { columns }),
    findings: await readFindings([...rows, { ...eye("d", "OD", 1, "m", 1, "x") }], { columns }),
    ...more,
  });
const words = ({ codes, labels }: Coded) => Array.from(codes, (code) => labels[code]);

test("a child has its first filled reading's own columns, else its finding's", async () => {
  const { children } = await link();
  expect(children.subject).toEqual(["a", "b", "c", "d"]);
  const [sex, weight, examiner] = children.own!;
  expect(words(sex!.values as Coded)).toEqual(["f", "m", "f", "m"]);
  expect([...(weight!.values as Float64Array)]).toEqual([1.5, Number.NaN, 3, Number.NaN]);
  expect(words(examiner!.values as Coded)).toEqual(["x", "x", "y", "d1"]);
});

test("pairs carry the own columns of their reading and of their finding", async () => {
  const pairs = eyePairs(await link(), { eyes: "both" });
  expect(pairs.own).toEqual({
    reading: {
      sex: ["", "f", "m", "f"],
      weight: Float64Array.of(1.5, 1.5, Number.NaN, 3),
      examiner: ["x", "y", "x", "y"],
    },
    finding: { sex: ["", "f", "m", "f"], examiner: ["d1", "d1", "d1", "d1"] },
  });
  const groups = biasBy({ ...pairs, by: pairs.own!.reading.sex! }, { label: "sex" });
  expect(groups).toMatchObject({ withoutGroup: 1, groups: [{ group: "f" }, { group: "m" }] });
  // one of two eyes drawn: the own columns are of the eye that stays
  const drawn = eyePairs(await link(), { eyes: "random", seed: 1 });
  const [side] = drawn.eye;
  expect(drawn.own!.reading.examiner).toEqual([side === "right" ? "x" : "y", "x", "y"]);
});

test("eligibility by own columns: words, or numbers from and to; without a value not eligible", async () => {
  const outcomes = async (own: object) => {
    const { flow, children } = await link({ eligibility: { own } });
    const box = flow.boxes.find(({ id }) => id === "not-eligible");
    return [box?.label, box?.children, children.n];
  };
  // d is in the exams alone
  expect(await outcomes({ sex: ["f"] })).toEqual(["Not eligible", 1, 4]);
  expect(await outcomes({ weight: [1, 3] })).toEqual(["Not eligible", 2, 4]);
  await expect(link({ eligibility: { own: { sexx: ["f"] } } })).rejects.toThrow(
    'requires own columns in eligibility, got "sexx"; did you mean "sex"?',
  );
  await expect(link({ eligibility: { own: { weight: ["f"] } } })).rejects.toThrow(
    "requires from and to, two numbers, for weight",
  );
});

test("a file without own columns has none in its cohort and pairs", async () => {
  const plain = [{ subject: "a", eye: "OD", sphere: -1, cylinder: 0, axis: 0 }];
  const cohort = linkCohort({
    readings: await readReadings(plain),
    findings: await readFindings(plain),
  });
  expect("own" in cohort.children).toBe(false);
  expect("own" in eyePairs(cohort, { eyes: "right" })).toBe(false);
});

const stated = {
  kind: "columns",
  version: 1,
  columns: { subject: "id", eye: "eye" },
  readings: [{ columns: { statedEquivalent: "m" } }],
  findings: [{ columns: { sphere: "S", cylinder: "C", axis: "A", statedEquivalent: "M" } }],
};
const onlyM = [1, 2, 3, 4, 5, 6].map((k) => {
  return { id: `k${k}`, eye: "OD", m: -k / 2, S: -k / 2, C: -0.5, A: 90, M: -k / 2 - 0.25 + 0.125 };
});

test("a file with only M: agreement of M works, J0 has no pair and says why", async () => {
  const cohort = linkCohort({
    readings: await readReadings(onlyM, { columns: stated }),
    findings: await readFindings(onlyM, { columns: stated }),
  });
  expect(cohort.choices).toEqual({ readingEquivalent: "stated", referenceEquivalent: "computed" });
  const pairs = eyePairs(cohort, { eyes: "right" });
  expect(pairs).toMatchObject({ n: 6, readingEquivalent: "stated", excluded: [] });
  expect(limitsOfAgreement(pairs).bias.value).toBeCloseTo(0.25, 12);
  const J0 = eyePairs(cohort, { eyes: "right", quantity: "J0" });
  expect(J0).toMatchObject({
    n: 0,
    excluded: [{ reason: "reading-incomplete", children: 6, eyes: 6 }],
  });
  const described = describeCohort(cohort);
  expect(JSON.stringify(described.rows)).toContain("-1.75");
});

test("what a cohort was linked with holds in later calls, for M", async () => {
  const cohort = linkCohort({
    readings: await readReadings(onlyM, { columns: stated }),
    findings: await readFindings(onlyM, { columns: stated }),
    referenceEquivalent: "stated",
  });
  expect(eyePairs(cohort, { eyes: "right" }).reference[0]).toBe(-0.625);
  expect(childValues(cohort, { eye: "right" }).reference[0]).toBe(-0.625);
  const computed = eyePairs(cohort, { eyes: "right", referenceEquivalent: "computed" });
  expect(computed.reference[0]).toBe(-0.75);
  expect(eyePairs(cohort, { eyes: "right", quantity: "J0" }).referenceEquivalent).toBe("computed");
  expect(() =>
    eyePairs(cohort, { eyes: "right", quantity: "J0", referenceEquivalent: "stated" }),
  ).toThrow("requires the quantity M");
});

test("a stated equivalent that no file has, or that was moved to another plane, is refused", async () => {
  const plain = [{ subject: "a", eye: "OD", sphere: -1, cylinder: 0, axis: 0 }];
  const [readings, findings] = [await readReadings(plain), await readFindings(plain)];
  expect(() => linkCohort({ readings, findings, readingEquivalent: "stated" })).toThrow(
    "requires readings with a stated equivalent",
  );
  const only = await readReadings(onlyM, { columns: stated });
  expect(() =>
    linkCohort({
      readings: { ...only, vertexMm: 12 },
      findings: { ...findings, vertexMm: 0 },
      readingEquivalent: "stated",
    }),
  ).toThrow("moved to another vertex plane");
});

test("repeats of stated equivalents have their mean or median", async () => {
  const three = [-1, -1.25, -3].map((m) => ({ ...onlyM[0]!, m }));
  const of = async (repeats: "mean" | "median") => {
    const readings = await readReadings(three, { columns: stated });
    const findings = await readFindings([onlyM[0]!], { columns: stated });
    return eyePairs(linkCohort({ readings, findings, repeats }), { eyes: "right" }).test[0];
  };
  expect(await of("mean")).toBe(-1.75);
  expect(await of("median")).toBe(-1.25);
});
