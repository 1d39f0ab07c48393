// Several confirmatory conditions are claimed together: their rates have intervals that hold together.
import { readFile } from "node:fs/promises";
import { describe, expect, it } from "vitest";
import { proportionInterval } from "../../src/inference/index.js";
import { createRandom } from "../../src/inference/random.js";
import { defineProtocol } from "../../src/protocol/index.js";
import { runStudy, studyReport } from "../../src/study/index.js";
import { simultaneousRates } from "../../src/study/run/simultaneousRates.js";
import { reportMarkdown } from "../../src/study/publish/writeMarkdown.js";

const folder = "data/children";
const json = JSON.parse(await readFile(`${folder}/protocol.json`, "utf8"));
const withRoles = (roles: readonly string[]) =>
  defineProtocol({
    ...json,
    replicates: 20,
    conditions: json.conditions.map((one: object, at: number) => ({ ...one, role: roles[at] })),
  });

describe("intervals that hold together", () => {
  it("Bonferroni over two rates of each confirmatory condition; none for a single one", () => {
    const both = withRoles(["confirmatory", "confirmatory"]);
    const levels: number[] = [];
    const none = { kind: "undefined", reason: "not asked" } as const;
    const ratesAt = (level: number) => {
      levels.push(level);
      return { sensitivity: none, specificity: none };
    };
    expect(simultaneousRates(both, "confirmatory", ratesAt).simultaneous).toMatchObject({
      comparisons: 4,
      level: 1 - 0.05 / 4,
    });
    expect(levels).toEqual([1 - 0.05 / 4]);
    expect(simultaneousRates(both, "exploratory", ratesAt)).toEqual({});
    const one = withRoles(["confirmatory", "exploratory"]);
    expect(simultaneousRates(one, "confirmatory", ratesAt)).toEqual({});
  });

  it("hold together as often as they say, where each at 95 % does not", () => {
    const random = createRandom(31);
    const truths = [0.9, 0.85, 0.8, 0.95];
    let [together, apart] = [0, 0];
    const studies = 1500;
    for (let study = 0; study < studies; study++) {
      const counts = truths.map(
        (truth) =>
          Array.from({ length: 200 }, () => random.uniform() < truth).filter(Boolean).length,
      );
      const all = (level: number) =>
        truths.every((truth, at) => {
          const found = proportionInterval({ successes: counts[at]!, trials: 200 }, { level });
          return found.kind === "estimate" && found.low <= truth && truth <= found.high;
        });
      together += Number(all(1 - 0.05 / 4));
      apart += Number(all(0.95));
    }
    // Monte Carlo errors .006 and .010
    expect(together / studies).toBeGreaterThan(0.93);
    expect(apart / studies).toBeLessThan(0.87);
  });

  it("stand beside each interval of a study's report, which says how", async () => {
    const result = await runStudy(withRoles(["confirmatory", "confirmatory"]), { folder });
    for (const { accuracy, simultaneous } of result.conditions) {
      const { truePositive, falseNegative } = accuracy.table;
      const counts = { successes: truePositive, trials: truePositive + falseNegative };
      expect(simultaneous!.sensitivity).toEqual(
        proportionInterval(counts, { level: simultaneous!.level }),
      );
    }
    const text = reportMarkdown(studyReport(result));
    expect(text).toContain("so that all 4 hold together at 95 % (Bonferroni)");
    const single = await runStudy(withRoles(["confirmatory", "exploratory"]), { folder });
    expect(single.conditions.every((one) => one.simultaneous === undefined)).toBe(true);
    expect(reportMarkdown(studyReport(single))).not.toContain("Bonferroni");
  });
});
