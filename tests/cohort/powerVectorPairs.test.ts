import { readFile } from "node:fs/promises";
import { beforeAll, describe, expect, it } from "vitest";
import { vectorAgreement } from "../../src/agreement/index.js";
import {
  type Cohort,
  eyePairs,
  linkCohort,
  powerVectorPairs,
  readFindings,
  readReadings,
} from "../../src/cohort/index.js";
import { show } from "../../src/notebook/index.js";
import { viewOf } from "../../src/notebook/views/index.js";
import { mirrorEye } from "../../src/refraction/index.js";

let full: Cohort;

beforeAll(async () => {
  const file = "data/children/children.csv";
  const columns = JSON.parse(await readFile("data/children/columns.json", "utf8"));
  const readings = await readReadings(file, { columns });
  const findings = await readFindings(file, { columns });
  full = linkCohort({ readings, findings, instrument: "table", cycloplegia: "full" });
});

describe("powerVectorPairs", () => {
  it.each(["right", "left", "both"] as const)(
    "has the rows that have all three of eyePairs, and every eye is somewhere: %s",
    (eyes) => {
      const vectors = powerVectorPairs(full, { eyes });
      const [M, J0, J45] = (["M", "J0", "J45"] as const).map((quantity) => {
        const pairs = eyePairs(full, { eyes, quantity });
        return new Map(
          Array.from(pairs.subjects, (child, row) => [
            `${child} ${pairs.eye[row]}`,
            { test: pairs.test[row], reference: pairs.reference[row] },
          ]),
        );
      });
      const keys = [...M!.keys()].filter((key) => J0!.has(key) && J45!.has(key));
      expect(Array.from(vectors.subjects, (child, row) => `${child} ${vectors.eyes[row]}`)).toEqual(
        keys,
      );
      expect(vectors.test).toEqual(
        keys.map((key) => ({
          M: M!.get(key)!.test,
          J0: J0!.get(key)!.test,
          J45: J45!.get(key)!.test,
        })),
      );
      expect(vectors.reference[0]).toEqual({
        M: M!.get(keys[0]!)!.reference,
        J0: J0!.get(keys[0]!)!.reference,
        J45: J45!.get(keys[0]!)!.reference,
      });
      const known = eyes === "both" ? 1129 : eyePairs(full, { eyes, quantity: "M" });
      const all = typeof known === "number" ? known : known.n + sum(known.excluded);
      expect(vectors.n + sum(vectors.excluded)).toBe(all);
    },
  );

  it("draws one eye a child as eyePairs does, among eyes with all three", () => {
    const drawn = powerVectorPairs(full, { eyes: "random", seed: 3 });
    expect(drawn).toMatchObject({ taken: "random", seed: 3, n: drawn.children });
    const J45 = eyePairs(full, { eyes: "random", seed: 3, quantity: "J45" });
    expect(Array.from(drawn.subjects)).toEqual(Array.from(J45.subjects));
    expect(drawn.eyes).toEqual(J45.eye);
    expect(() => powerVectorPairs(full, { eyes: "random" })).toThrow(
      'powerVectorPairs requires a seed for eyes "random", got none',
    );
  });

  it("goes into vectorAgreement as it is, left eyes mirrored there, and show draws it", () => {
    const pairs = powerVectorPairs(full, { eyes: "both" });
    const found = vectorAgreement(pairs);
    expect(found).toMatchObject({ n: pairs.n, subjects: pairs.children, mirrored: true });
    const turned = pairs.test.map((test, row) => {
      const reference = pairs.reference[row]!;
      const difference = { M: 0, J0: 0, J45: test.J45 - reference.J45 };
      return pairs.eyes[row] === "left" ? mirrorEye(difference).J45 : difference.J45;
    });
    const mean = turned.reduce((sum, value) => sum + value, 0) / pairs.n;
    expect(found.mean.J45).toBeCloseTo(mean, 12);
    const { figure } = viewOf(found, pairs);
    expect(figure?.alt).toContain("all eyes, left mirrored");
    expect(figure?.alt).toContain(`J45 ${found.mean.J45.toFixed(2)} D`);
    expect(viewOf(found).figure).toBeNull();
    expect(show(pairs)).toContain(`${pairs.n} pairs of power vectors`);
  });
});

const sum = (excluded: readonly { readonly eyes: number }[]) =>
  excluded.reduce((total, { eyes }) => total + eyes, 0);
