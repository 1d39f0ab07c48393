import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  type Cohort,
  childValues,
  combineRepeats,
  describeCohort,
  eyePairs,
  linkCohort,
  readFindings,
  readReadings,
  type SourceRow,
} from "../../src/cohort/index.js";
import { toMarkdown } from "../../src/tables/index.js";

const eye = (subject: string, side: string, more: object = {}): SourceRow => ({
  subject,
  eye: side,
  sphere: -1,
  cylinder: -0.5,
  axis: 90,
  day: 0,
  ...more,
});
const unreadable = { sphere: null, cylinder: null, axis: null };

async function cohortOf(
  readings: readonly SourceRow[],
  findings: readonly SourceRow[],
  options: object = {},
): Promise<Cohort> {
  return linkCohort({
    readings: await readReadings(readings),
    findings: await readFindings(findings),
    ...options,
  });
}

/** Eyes and children of a box. */
const box = ({ flow }: Cohort, id: string) => {
  const found = flow.boxes.find((entry) => entry.id === id);
  return [found?.eyes, found?.children];
};

function addsUp({ flow }: Cohort): void {
  for (const { id, eyes, children } of flow.boxes) {
    const parts = flow.boxes.filter(({ partOf }) => partOf === id);
    if (parts.length === 0) continue;
    expect(parts.reduce((sum, part) => sum + part.eyes, 0)).toBe(eyes);
    expect(parts.reduce((sum, part) => sum + part.children, 0)).toBe(children);
  }
}

describe("linking by subject and eye", () => {
  test("who is on one side only is kept in the flow", async () => {
    const cohort = await cohortOf(
      [eye("a", "OD"), eye("a", "OS", unreadable), eye("b", "OD")],
      [eye("a", "OD"), eye("a", "OS"), eye("c", "OD")],
    );
    expect(box(cohort, "all")).toEqual([4, 3]);
    expect(box(cohort, "exam-only")).toEqual([1, 1]);
    expect(box(cohort, "eligible")).toEqual([3, 2]);
    expect(box(cohort, "no-reading")).toEqual([0, 0]);
    expect(box(cohort, "not-attempted")).toEqual([1, 0]);
    expect(box(cohort, "lost")).toEqual([1, 1]);
    expect(box(cohort, "paired")).toEqual([1, 1]);
    const { codes, labels } = cohort.children.verification;
    expect([...codes].map((code) => labels[code])).toEqual(["examined", "lost", "not-screened"]);
  });

  test("a window of days, the exam before screening, the nearest exam", async () => {
    const readings = [eye("a", "OD", { day: 10 }), eye("b", "OD", { day: 10 })];
    const findings = [
      eye("a", "OD", { day: 5, sphere: 1 }),
      eye("b", "OD", { day: 90, sphere: 2 }),
      eye("b", "OD", { day: 20, sphere: 3 }),
    ];
    const cohort = await cohortOf(readings, findings, { daysBetween: [0, 60] });
    expect(box(cohort, "before-screening")).toEqual([1, 1]);
    expect(box(cohort, "outside-window")).toEqual([0, 0]);
    expect([...eyePairs(cohort, { eyes: "both" }).reference]).toEqual([2.75]);
    const last = await cohortOf(readings, findings, { exam: "last" });
    expect([...eyePairs(last, { eyes: "both" }).reference]).toEqual([0.75, 1.75]);
    const nearest = await cohortOf(readings, findings, { exam: "nearest" });
    expect([...eyePairs(nearest, { eyes: "both" }).reference]).toEqual([0.75, 2.75]);
  });

  test("children read less than the follow-up before the end are pending", async () => {
    const readings = [eye("a", "OD", { day: 0 }), eye("b", "OD", { day: 100 })];
    const cohort = await cohortOf(readings, [eye("c", "OD")], { followUpDays: 30 });
    expect(box(cohort, "pending")).toEqual([1, 1]);
    expect(box(cohort, "lost")).toEqual([1, 1]);
  });

  test("whole years at the edge of the age limits are unclear, not guessed", async () => {
    const readings = [4, 5, 6].map((ageYears) => eye(`c${ageYears}`, "OD", { ageYears }));
    const cohort = await cohortOf(readings, readings, { eligibility: { ageMonths: [66, 200] } });
    expect(box(cohort, "not-eligible")).toEqual([1, 1]);
    expect(box(cohort, "age-unclear")).toEqual([1, 1]);
    expect(box(cohort, "paired")).toEqual([1, 1]);
  });

  test("unlike readings are never pooled by silence", async () => {
    const readings = await readReadings([
      eye("a", "OD", { instrument: "one", correction: "none" }),
      eye("a", "OS", { instrument: "one", correction: "glasses" }),
    ]);
    const findings = await readFindings([eye("a", "OD")]);
    expect(() => linkCohort({ readings, findings })).toThrow(/correction .* none, glasses/);
    expect(() => linkCohort({ readings, findings, instrument: "two" })).toThrow(/got "two"/);
  });

  test("vertex planes: readings go to the findings' plane", async () => {
    const readings = {
      ...(await readReadings([eye("a", "OD", { sphere: -8, cylinder: 0 })])),
      vertexMm: 12,
    };
    const findings = { ...(await readFindings([eye("a", "OD")])), vertexMm: 0 };
    const cohort = linkCohort({ readings, findings });
    // -8 D at 12 mm: -8 / (1 + 0.012 x 8), geometrical optics
    expect(eyePairs(cohort, { eyes: "both" }).test[0]).toBeCloseTo(-8 / 1.096, 12);
  });
});

describe("repeats", () => {
  const rows = [
    eye("a", "OD", { axis: 5, cylinder: -2, confidenceScore: 3, repeat: 1 }),
    eye("a", "OD", { axis: 175, cylinder: -2, confidenceScore: 9, repeat: 2 }),
    eye("a", "OD", { sphere: -6, axis: 90, cylinder: -2, confidenceScore: 1, repeat: 3 }),
  ];
  test("first, last, highest confidence", async () => {
    const axisBy = async (repeats: string) => {
      const cohort = await cohortOf(rows, [eye("a", "OD")], { repeats });
      return cohort.readings.axis[cohort.children.readingRow.right[0]];
    };
    expect(await axisBy("first")).toBe(5);
    expect(await axisBy("last")).toBe(90);
    expect(await axisBy("highest-confidence")).toBe(175);
  });

  test("mean through vectors, with a confidence cut-off and the share lost", async () => {
    const readings = await readReadings(rows);
    const combined = combineRepeats(readings, { centre: "mean", confidenceAtLeast: 2 });
    // axes 5 and 175 average to 180, the cylinder to -2 cos 10 degrees; by hand
    expect(combined.readings.axis[0]).toBeCloseTo(180, 9);
    expect(combined.readings.cylinder[0]).toBeCloseTo(-2 * Math.cos(Math.PI / 18), 12);
    expect(combined).toMatchObject({ used: 2, lowConfidence: 1, lowConfidenceShare: 1 / 3 });
    expect(combined.readings.confidenceScore?.[0]).toBe(6);
    const cohort = await cohortOf(rows, [eye("a", "OD")], { repeats: "median" });
    expect(eyePairs(cohort, { eyes: "both" }).test[0]).toBe(-2);
  });
});

const side = fc.constantFrom("OD", "OS");
const subject = fc.constantFrom("a", "b", "c", "d", "e", "f");
const measured = fc.record({
  subject,
  eye: side,
  sphere: fc.constantFrom(-3, -1, 0, 2, null, "?"),
  cylinder: fc.constantFrom(-1, 0, null),
  axis: fc.constantFrom(10, 90, 400),
  day: fc.integer({ min: 0, max: 60 }),
  ageYears: fc.constantFrom(4, 5, 6),
});
const rowsOf = fc.array(measured, { minLength: 1, maxLength: 25 });

describe("the flow, whatever the rows", () => {
  test("adds up, counts every eye of either file, and does not depend on the order of rows", async () => {
    await fc.assert(
      fc.asyncProperty(rowsOf, rowsOf, fc.integer(), async (readings, findings, turn) => {
        const options = { daysBetween: [-10, 40], eligibility: { ageYears: [4, 6] } };
        const cohort = await cohortOf(readings, findings, options);
        addsUp(cohort);
        const eyes = new Set([...readings, ...findings].map((row) => `${row.subject} ${row.eye}`));
        expect(box(cohort, "all")[0]).toBe(eyes.size);
        for (const pairs of [eyePairs(cohort, { eyes: "both" })]) {
          const lost = pairs.excluded.reduce((sum, entry) => sum + entry.eyes, 0);
          expect(pairs.n + lost).toBe(eyes.size);
          expect(pairs.n).toBe(box(cohort, "paired")[0]);
        }
        // ties of one day are settled by line, so rows of one eye stay in order
        const shuffled = stablyGrouped(readings, turn);
        const permuted = await cohortOf(shuffled, stablyGrouped(findings, turn), {
          daysBetween: [-10, 40],
        });
        const plain = await cohortOf(readings, findings, { daysBetween: [-10, 40] });
        expect(permuted.flow).toEqual(plain.flow);
      }),
      { numRuns: 150 },
    );
  });

  test("leaving out a finding moves no eye further, and only eyes of that subject", async () => {
    await fc.assert(
      fc.asyncProperty(rowsOf, rowsOf, fc.nat(), async (readings, findings, pick) => {
        if (findings.length < 2) return;
        const gone = findings[pick % findings.length];
        const before = await cohortOf(readings, findings);
        const after = await cohortOf(
          readings,
          findings.filter((row) => row !== gone),
        );
        addsUp(after);
        for (const eyeSide of ["right", "left"] as const) {
          before.children.subject.forEach((name, child) => {
            const now = after.children.subject.indexOf(name);
            if (name === gone.subject) return;
            expect(after.children.outcome?.[eyeSide][now]).toBe(
              before.children.outcome?.[eyeSide][child],
            );
          });
        }
        expect(box(after, "examined")[0]).toBeLessThanOrEqual(box(before, "examined")[0] ?? 0);
      }),
      { numRuns: 100 },
    );
  });
});

/** Another order of the subjects' eyes that keeps each eye's own rows in order. */
function stablyGrouped<Row extends { subject: string; eye: string }>(
  rows: Row[],
  turn: number,
): Row[] {
  const rank = (row: Row) =>
    (Math.imul(row.subject.charCodeAt(0) * 7 + row.eye.length + row.eye.charCodeAt(1), turn | 1) >>>
      0) %
    997;
  return rows.toSorted((a, b) => rank(a) - rank(b));
}

describe("description", () => {
  test("by verification: counts, and the standardised difference by hand", async () => {
    const ages = [60, 72, 84, 96];
    const rows = ages.map((ageMonths, index) =>
      eye(`c${index}`, "OD", { ageMonths, site: "north" }),
    );
    const cohort = await cohortOf(rows, rows.slice(0, 2));
    const table = describeCohort(cohort, { by: "verification" });
    expect(table.rows[0].cells).toEqual(["Children", 4, 2, 2, null]);
    const age = table.rows[1].cells;
    for (const [index, months] of [78.5, 66.5, 90.5].entries()) {
      expect(age[index + 1]).toBeCloseTo(months / 12, 12);
    }
    // means 24 months apart, both standard deviations 12 / sqrt 2 months
    expect(age[4]).toBeCloseTo(-24 / (12 / Math.SQRT2), 12);
    // two decimals, in rows of counts too: 1 of 2 against none, 0.5 / sqrt(0.5 / 2) = 1
    const unread = await cohortOf(
      [eye("a", "OD"), eye("b", "OD", unreadable), eye("c", "OD"), eye("d", "OD")],
      [eye("a", "OD"), eye("b", "OD")],
    );
    const printed = toMarkdown(describeCohort(unread, { by: "verification" }));
    expect(printed).toMatch(
      /\| Right eye not-attempted \| 1 \(25.0 %\) \| 1 \(50.0 %\) \| 0 \(0.0 %\) \| 1.00 \|/,
    );
    expect(printed).toMatch(
      /\| Right eye measured \| 3 \(75.0 %\) \| 1 \(50.0 %\) \| 2 \(100.0 %\) \| -1.00 \|/,
    );
    expect(childValues(cohort, { eye: "right" }).n).toBe(2);
  });

  test("by site; without sites it says so", async () => {
    const rows = [eye("a", "OD", { site: "north" }), eye("b", "OD", { site: "south" })];
    const table = describeCohort(await cohortOf(rows, rows), { by: "site" });
    expect(table.columns.map(({ label }) => label)).toEqual(["", "All", "north", "south"]);
    const plain = await cohortOf([eye("a", "OD")], [eye("a", "OD")]);
    expect(() => describeCohort(plain, { by: "site" })).toThrow(/requires sites/);
  });
});
