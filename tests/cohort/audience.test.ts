import { readFile } from "node:fs/promises";
import { beforeAll, describe, expect, it } from "vitest";
import {
  biasBy,
  biasByFigure,
  type Cohort,
  childValues,
  chooseThreshold,
  cutOffFigure,
  defineColumns,
  demingRegression,
  describeProgramme,
  differenceAgainstMeanFigure,
  doubleAngleFigure,
  eyePairs,
  flowFigure,
  foldedDifferencesFigure,
  funnelFigure,
  funnelLimits,
  limitsOfAgreement,
  linkCohort,
  methodRegressionFigure,
  nonparametricLimits,
  pairMeasurements,
  paretoFront,
  programmeTables,
  readFindings,
  readReadings,
  repeatability,
  repeatabilityFigure,
  rocCurve,
  rocFigure,
  ruleFrontFigure,
  ruleSpace,
  simulateCohort,
  vectorAgreement,
  vectorProjectionsFigure,
} from "../../src/index.js";

// Who may see the data is said once, in their mapping, and goes with what is made of them.
type Audience = "journal" | "public" | undefined;
const rows = Array.from({ length: 60 }, (_, at) => ({
  subject: `S${Math.floor(at / 2)}`,
  eye: at % 2 === 0 ? "OD" : "OS",
  sphere: -4 + (at % 13) / 2,
  cylinder: -((at * 7) % 5) / 4,
  axis: (at * 37) % 180,
}));
const seen = rows.map((row, at) => ({ ...row, sphere: row.sphere + ((at % 7) - 3) / 4 }));
const block = { columns: { eye: "eye", sphere: "sphere", cylinder: "cylinder", axis: "axis" } };
const mapping = (audience: Audience) =>
  defineColumns({
    kind: "columns",
    version: 1,
    ...(audience === undefined ? {} : { audience }),
    columns: { subject: "subject" },
    readings: [block],
    findings: [block],
  });
async function cohortOf(first: Audience, second: Audience): Promise<Cohort> {
  return linkCohort({
    readings: await readReadings(rows, { columns: mapping(first) }),
    findings: await readFindings(seen, { columns: mapping(second) }),
  });
}

describe("the audience of a mapping", () => {
  it("is journal or public, and nothing else", () => {
    expect(() => mapping("everybody" as never)).toThrow("audience");
    expect(mapping(undefined)).not.toHaveProperty("audience");
  });

  it("is the strictest of what is linked; said by one file alone, it is the public", async () => {
    const wanted: readonly [Audience, Audience, Audience][] = [
      ["journal", "journal", "journal"],
      ["journal", "public", "public"],
      ["public", "journal", "public"],
      ["public", "public", "public"],
      ["journal", undefined, "public"],
      [undefined, "journal", "public"],
      [undefined, "public", "public"],
      [undefined, undefined, undefined],
    ];
    for (const [first, second, joint] of wanted) {
      const cohort = await cohortOf(first, second);
      expect([cohort.audience, cohort.flow.audience], `${first} ${second}`).toEqual([joint, joint]);
      const pairs = [
        eyePairs(cohort, { eyes: "both" }),
        childValues(cohort, { eye: "right" }),
        pairMeasurements(cohort.readings, cohort.findings, { eyes: "both" }),
      ];
      expect(pairs.map(({ audience }) => audience)).toEqual([joint, joint, joint]);
    }
  });

  it("is journal for what is simulated, and survives repeats made into one", async () => {
    const { readings, findings } = await simulateCohort({ children: 200, seed: 1 });
    expect(linkCohort({ readings, findings, repeats: "mean" }).audience).toBe("journal");
  });

  it("is journal in the data that come with the project", async () => {
    for (const name of ["children", "survey", "demo"]) {
      const json = JSON.parse(await readFile(`data/${name}/columns.json`, "utf8"));
      expect(defineColumns(json).audience).toBe("journal");
    }
  });
});

describe("figures and tables", () => {
  const made: Record<string, (cohort: Cohort, told?: object) => Promise<unknown> | unknown> = {
    flow: ({ flow }, told) => flowFigure(flow, told),
    "difference against mean": (cohort, told) => {
      const pairs = eyePairs(cohort, { eyes: "both" });
      return differenceAgainstMeanFigure(limitsOfAgreement(pairs), pairs, told);
    },
    "folded differences": (cohort, told) => {
      const pairs = eyePairs(cohort, { eyes: "right" });
      return foldedDifferencesFigure(nonparametricLimits(pairs), pairs, told);
    },
    "double angle": (cohort, told) => {
      const points = rows.map((_, at) => ({ J0: (at % 9) / 8, J45: (at % 5) / 8 }));
      return doubleAngleFigure(
        [{ label: "eyes", n: 60, ellipses: [], points, audience: cohort.audience }],
        told,
      );
    },
    "test against reference": (cohort, told) => {
      const pairs = eyePairs(cohort, { eyes: "right" });
      const lines = { Deming: demingRegression(pairs, { errorRatio: 1 }) };
      return methodRegressionFigure(lines, pairs, { range: [-4, 3], ...told });
    },
    repeatability: ({ audience }, told) => {
      const values = rows.map(({ sphere }) => sphere);
      const units = rows.map(({ subject }) => subject);
      const mean = Array.from({ length: 30 }, (_, at) => (at % 13) / 4);
      const sd = mean.map((_, at) => (at % 5) / 8);
      return repeatabilityFigure(repeatability({ values, units, audience }), { mean, sd }, told);
    },
    "vector difference": ({ audience }, told) => {
      const test = rows.map((_, at) => ({ M: (at % 11) / 4, J0: (at % 9) / 8, J45: (at % 5) / 8 }));
      const reference = test.map(() => ({ M: 0, J0: 0, J45: 0 }));
      const agreement = vectorAgreement({ test, reference, audience });
      return vectorProjectionsFigure(agreement, test, told);
    },
    "bias by group": (cohort, told) => {
      const pairs = eyePairs(cohort, { eyes: "right" });
      const by = Array.from(pairs.reference, (M) => (M < -3 ? "a" : M < 0 ? "b" : "c"));
      return biasByFigure(biasBy({ ...pairs, by }, { label: "power" }), told);
    },
    curve: (cohort, told) => rocFigure(rocCurve(valuesOf(cohort), low), undefined, told),
    "chosen cut-off": async (cohort, told) =>
      cutOffFigure(
        await chooseThreshold(valuesOf(cohort), {
          ...low,
          criterion: "youden",
          seed: 1,
          replicates: 20,
          folds: 2,
          repeats: 1,
          nested: { outer: 0, inner: 0 },
        }),
        told,
      ),
    "front of rules": (cohort, told) => {
      const { values, condition, audience } = valuesOf(cohort);
      const sphere = values.map((value) => -value);
      const limits = { sphere: [0, 1, 2, 3, 4] };
      return ruleFrontFigure(
        paretoFront(ruleSpace({ measures: { sphere }, condition, limits, audience })),
        told,
      );
    },
    funnel: (cohort, told) => funnelFigure(funnelLimits(programme(cohort)), told),
    "tables of a programme": (cohort, told) => programmeTables(programme(cohort), told),
  };
  const low = { positiveWhen: "low" } as const;
  const valuesOf = (cohort: Cohort) => {
    const { test, reference, subjects, audience } = eyePairs(cohort, { eyes: "right" });
    const condition = Array.from(reference, (M, row) => M <= -2 !== (row % 4 === 0));
    return { values: Array.from(test), condition, subjects, audience };
  };
  const programme = ({ audience }: Cohort) =>
    describeProgramme({
      audience,
      decision: rows.map((_, at) => (at % 9 === 0 ? "refer" : "pass")),
      condition: rows.map(() => null),
      reason: rows.map(() => "not-examined"),
      by: { site: rows.map((_, at) => (at % 5 === 0 ? "north" : "south")) },
    });

  let open: Cohort;
  let closed: Cohort;
  let silent: Cohort;
  beforeAll(async () => {
    [open, closed, silent] = await Promise.all([
      cohortOf("journal", "journal"),
      cohortOf("public", "public"),
      cohortOf(undefined, undefined),
    ]);
  });

  it.each(Object.keys(made))("follow what the data say unless told otherwise: %s", async (name) => {
    const of = async (cohort: Cohort, told?: object) =>
      JSON.stringify(await made[name]!(cohort, told));
    const journal = await of(silent, { audience: "journal" });
    const everybody = await of(silent, { audience: "public" });
    expect(journal).not.toBe(everybody);
    expect(await of(silent)).toBe(everybody);
    expect(await of(closed)).toBe(everybody);
    expect(await of(open)).toBe(journal);
    expect(await of(open, { audience: "public" })).toBe(everybody);
    expect(await of(closed, { audience: "journal" })).toBe(journal);
  });
});
