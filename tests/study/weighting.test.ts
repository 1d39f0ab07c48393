import { readFile } from "node:fs/promises";
import { describe, expect, it } from "vitest";
import { createRandom } from "../../src/inference/index.js";
import { defineProtocol } from "../../src/protocol/index.js";
import { type VariableRows, weightedArea, weightedRows } from "../../src/study/run/weighting.js";
import { areaUnderCurve } from "../../src/thresholds/index.js";

const { programme: _, ...json } = JSON.parse(await readFile("data/demo/protocol.json", "utf8"));
const protocol = defineProtocol({ ...json, replicates: 200 });

type Row = [
  value: number,
  test: boolean | "undecidable",
  reference: boolean | null,
  reason: VariableRows["reason"][number],
  group?: string,
];
const rowsOf = (rows: readonly Row[]): VariableRows => ({
  values: rows.map(([value]) => value),
  test: rows.map(([, test]) => test),
  reference: rows.map(([, , reference]) => reference),
  reason: rows.map(([, , , reason]) => reason),
  groups: rows.map(([, , , , group]) => group ?? ""),
  subjects: rows.map((_, row) => row),
  // the programme decided as the rule under study does
  programme: { source: "recorded" },
  recorded: rows.map(([, test]) => (test === "undecidable" ? "unable" : test ? "refer" : "pass")),
  selfPresented: rows.map(() => null),
  shares: null,
  sites: null,
});

describe("weightedRows", () => {
  const base: Row[] = [
    [5, true, true, "referred"],
    [4, true, false, "referred"],
    [1, false, false, "sampled"],
    [2, false, true, "sampled"],
    [2, false, true, "sampled"],
    [1, false, true, "sampled"],
    [3, false, true, "self-presented"],
    [1, false, false, "referred"],
    [0, false, null, "not-examined"],
    [Number.NaN, true, true, "referred"],
  ];

  it("lets the referred who came for it, and the drawn, stand for the others of their result", () => {
    const rows = weightedRows(rowsOf(base), protocol);
    if (rows.kind === "undefined") throw new Error(rows.reason);
    expect(rows.values.length).toBe(9);
    // self-presented, and passes referred for something else, are as good as not examined
    expect(rows.examination!.examined).toEqual([...Array(6).fill(true), false, false, false]);
    expect(new Set(Array.from(rows.examination!.strata))).toEqual(new Set(["referred", "passed"]));
  });

  it("counts the undecidable by the protocol's policy", () => {
    const rows: Row[] = [...base, [6, "undecidable", true, "referred"]];
    const strataBy = (unreadable: "refer" | "pass" | "exclude") => {
      const found = weightedRows(rowsOf(rows), { ...protocol, undecidable: unreadable });
      if (found.kind === "undefined") throw new Error(found.reason);
      return Array.from(found.examination!.strata).slice(9);
    };
    // a decision of its own, that the rule under study counts in either way
    expect([strataBy("refer"), strataBy("pass"), strataBy("exclude")]).toEqual([
      ["unable, referred by the rule"],
      ["unable, passed by the rule"],
      [],
    ]);
  });

  it("refuses with the reason where nobody stands for the unexamined", () => {
    const without = (reason: string) => rowsOf(base.filter(([, , , why]) => why !== reason));
    expect(weightedRows(without("sampled"), protocol)).toEqual({
      kind: "undefined",
      reason: expect.stringContaining("none of those who passed was drawn for the exam"),
    });
    const onlyOne: Row[] = [...base, [0, false, null, "not-examined", "north"]];
    expect(weightedRows(rowsOf(onlyOne), protocol)).toEqual({
      kind: "undefined",
      reason: 'nobody stands for the unexamined of the group "passed, north"',
    });
    const twoMisses = rowsOf(base.filter((_, row) => row !== 3));
    expect(weightedRows(twoMisses, protocol)).toEqual({
      kind: "undefined",
      reason:
        "2 of the drawn passes are with the condition: below 3 nobody knows what the missed look like",
    });
    const everyPass = base.filter(
      ([, , reference, why]) => reference !== null && why !== "referred",
    );
    const referred = base.slice(0, 2);
    // where every pass was examined there is nothing that the drawn stand for
    const complete = everyPass.filter(([, , , why]) => why === "sampled").slice(0, 2);
    expect(weightedRows(rowsOf([...referred, ...complete]), protocol).kind).toBe("weighted-rows");
    const healthy = rowsOf(base.map(([value, test, , reason]) => [value, test, false, reason]));
    expect(weightedRows(healthy, protocol)).toMatchObject({ reason: /with the condition/ });
  });
});

describe("weightedArea", () => {
  it("comes near the area of all screened children where that of the examined does not", async () => {
    const random = createRandom(5);
    const normal = () =>
      Math.sqrt(-2 * Math.log(1 - random.uniform())) * Math.cos(2 * Math.PI * random.uniform());
    const everyone: { value: number; sick: boolean }[] = [];
    const rows: Row[] = [];
    for (let child = 0; child < 20_000; child++) {
      const sick = random.uniform() < 0.05;
      const value = Math.round(4 * (normal() * (sick ? 2 : 1) + (sick ? 0.8 : 0))) / 4;
      everyone.push({ value, sick });
      const referred = value >= 1.5;
      const examined = random.uniform() < (referred ? 0.6 : 0.1);
      rows.push([
        value,
        referred,
        examined ? sick : null,
        examined ? (referred ? "referred" : "sampled") : "not-examined",
      ]);
    }
    const areaOf = (list: readonly { value: number; sick: boolean }[]) => {
      const found = areaUnderCurve(
        { values: list.map(({ value }) => value), condition: list.map(({ sick }) => sick) },
        { positiveWhen: "high" },
      );
      if (found.kind === "undefined") throw new Error(found.reason);
      return found.value;
    };
    const truth = areaOf(everyone);
    const naive = areaOf(
      rows.flatMap(([value, , reference]) =>
        reference === null ? [] : [{ value, sick: reference }],
      ),
    );
    const weighted = await weightedArea(weightedRows(rowsOf(rows), protocol), "high", protocol, {
      workers: 1,
    });
    if (weighted.kind === "undefined") throw new Error(weighted.reason);
    // four standard errors of its own bootstrap
    expect(Math.abs(weighted.value - truth)).toBeLessThan(4 * weighted.se!);
    expect(weighted.low < truth && truth < weighted.high).toBe(true);
    expect(Math.abs(naive - truth)).toBeGreaterThan(4 * weighted.se!);
  });
});
