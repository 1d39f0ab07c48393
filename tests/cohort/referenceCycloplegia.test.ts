import { expect, test } from "vitest";
import { eyePairs, linkCohort, readFindings, readReadings } from "../../src/cohort/index.js";

const eye = (subject: string, more: object = {}) => ({
  subject,
  eye: "OD",
  sphere: -1,
  cylinder: 0,
  axis: 0,
  ...more,
});

const sources = async () => ({
  readings: await readReadings(["a", "b", "c", "d"].map((subject) => eye(subject))),
  findings: await readFindings([
    eye("a", { cycloplegia: "full", sphere: 1 }),
    eye("b", { cycloplegia: "none", sphere: 2 }),
    eye("c", { cycloplegia: "none", sphere: 3 }),
    eye("c", { cycloplegia: "full", sphere: 4 }),
    eye("d", { cycloplegia: "inadequate", sphere: 5 }),
  ]),
});

test("a finding without the drops is no reference, and its child is counted", async () => {
  const cohort = linkCohort({ ...(await sources()), referenceCycloplegia: ["full"] });
  const box = (id: string) => cohort.flow.boxes.find((entry) => entry.id === id)?.children;
  expect(box("other-cycloplegia")).toBe(2);
  expect(box("paired")).toBe(2);
  expect(box("read")).toBe(4);
  // c has both; the one with drops counts although it stands later
  const pairs = eyePairs(cohort, { eyes: "right" });
  expect([...pairs.reference]).toEqual([1, 4]);
  expect(pairs.excluded).toEqual([{ reason: "other-cycloplegia", children: 2, eyes: 2 }]);
  const { codes, labels } = cohort.children.verification;
  expect([...codes].map((code) => labels[code])).toEqual(["examined", "lost", "examined", "lost"]);
});

test("by default every finding counts; a list of no states is refused", async () => {
  const both = await sources();
  expect(eyePairs(linkCohort(both), { eyes: "right" }).n).toBe(4);
  expect(() => linkCohort({ ...both, referenceCycloplegia: [] })).toThrow("referenceCycloplegia");
});
