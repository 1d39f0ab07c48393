// Two eyes of a child, tried out: studies analysed by `clusteredAccuracy`.
import { describe, expect, it } from "vitest";
import { clusteredAccuracy } from "../../src/accuracy/index.js";
import { createRandom } from "../../src/inference/random.js";
import { planAccuracyStudy } from "../../src/planning/index.js";

const expected = { sensitivity: 0.85, specificity: 0.9, prevalence: 0.5 };
const children = 600;
const replicates = 400;

describe.each([0, 0.3, 0.7])("outcomes of two eyes correlate by %d", (correlation) => {
  const plan = planAccuracyStudy({
    expected,
    eyes: { perChild: 2, correlation },
    at: [children],
  });
  const random = createRandom(20261126);
  const subjects = Array.from({ length: 2 * children }, (_, row) => row >> 1);
  const reference = subjects.map((child) => Number(child < children * expected.prevalence));
  const studies = Array.from({ length: replicates }, () => {
    // with the chance `correlation` both eyes share one draw, so that they correlate by as much
    const test = Array.from({ length: children }, (_, child) => {
      const positive =
        child < children * expected.prevalence ? expected.sensitivity : 1 - expected.specificity;
      const draw = () => Number(random.uniform() < positive);
      const right = draw();
      return [right, random.uniform() < correlation ? right : draw()];
    }).flat();
    return clusteredAccuracy({ test, reference, subjects });
  });

  // without correlation the analysis keeps its design effect from falling below 1: no mean of 1
  it.skipIf(correlation === 0).each(["sensitivity", "specificity"] as const)(
    "%s: the plan's design effect is what the analysis finds, within 3 Monte Carlo errors",
    (measure) => {
      const found = studies.map(({ designEffect }) => designEffect[measure]!);
      const mean = found.reduce((sum, one) => sum + one, 0) / replicates;
      const spread = found.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (replicates - 1);
      expect(Math.abs(mean - plan.designEffect)).toBeLessThan(3 * Math.sqrt(spread / replicates));
    },
  );

  it.each(["sensitivity", "specificity"] as const)(
    "%s: and the variance of the rates is the plan's, within 3 Monte Carlo errors",
    (measure) => {
      const row = plan.table[0]!;
      const rows = measure === "sensitivity" ? row.withCondition : row.withoutCondition;
      const said = (expected[measure] * (1 - expected[measure]) * plan.designEffect) / rows;
      const squares = studies.map((study) => {
        const part = study[measure];
        expect(part.kind).toBe("estimate");
        return part.kind === "estimate" ? (part.value - expected[measure]) ** 2 : 0;
      });
      const mean = squares.reduce((sum, one) => sum + one, 0) / replicates;
      const spread = squares.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (replicates - 1);
      expect(Math.abs(mean - said)).toBeLessThan(3 * Math.sqrt(spread / replicates));
    },
  );
});
