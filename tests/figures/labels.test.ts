import { describe, expect, it } from "vitest";
import { limitsOfAgreement } from "../../src/agreement/index.js";
import { createRandom } from "../../src/inference/index.js";
import * as figures from "../../src/figures/index.js";
import type { FigureSpec } from "../../src/results/index.js";
import { rocCurve } from "../../src/thresholds/rocCurve.js";
import { cases } from "./cases.js";
import { boxesOf, isWithin, overlap } from "./labelBoxes.js";

/** Labels that lie on a mark by more than half a point. */
async function crossed(figure: FigureSpec): Promise<readonly string[]> {
  const { labels, marks } = await boxesOf(figure);
  const lies = labels.flatMap((label) =>
    marks
      .filter((mark) => overlap(label, mark) > 0.5)
      .filter((mark) => mark.name !== "rect" || !isWithin(label, mark))
      .map((mark) => `"${label.name}" on a ${mark.name}`),
  );
  return [...new Set(lies)];
}

describe("labels on a plane", () => {
  it.each(cases)("$name: none lies on a mark", async ({ draw }) => {
    expect(await crossed(draw())).toEqual([]);
  });

  // differences that are skew, so that both summaries of limits are apart and eyes stand at every place
  const reference = Array.from({ length: 400 }, (_, row) => ((row * 37) % 120) / 10 - 6);
  const skew = {
    reference,
    test: reference.map((value, row) => value + 3 * (((row * 61) % 100) / 100) ** 6 - 0.6),
  };
  const agreement = limitsOfAgreement(skew);

  it.each(["journal", "public"] as const)(
    "none where eyes stand everywhere, %s",
    async (audience) => {
      const figure = figures.differenceAgainstMeanFigure(agreement, skew, { audience });
      expect(JSON.stringify(figure.spec)).toContain("(if normal");
      expect(await crossed(figure)).toEqual([]);
    },
  );

  it("none where differences of astigmatism reach all around", async () => {
    const points = Array.from({ length: 400 }, (_, row) => {
      const [angle, length] = [row * 2.4, 2 * Math.sqrt((row + 0.5) / 400)];
      return { J0: length * Math.cos(angle), J45: length * Math.sin(angle) };
    });
    const panel = { label: "right eyes", n: 400, ellipses: [], points };
    const figure = figures.doubleAngleFigure([panel], { audience: "journal", of: "difference" });
    expect(await crossed(figure)).toEqual([]);
  });

  it.each([1, 2, 3, 4, 5])(
    "none on the curve of a reading that tells something, %i",
    async (spread) => {
      const values = Array.from({ length: 120 }, (_, row) => ((row * 53) % 97) / 12 - 4);
      const condition = values.map(
        (value, row) => value + spread * (((row * 31) % 40) / 20 - 1) <= -1,
      );
      const curve = rocCurve({ values, condition }, { positiveWhen: "low" });
      const marked = [-3, -1, 0, 2].map((limit) => ({
        cutOff: curve.points.find(({ cutOff }) => cutOff !== null && cutOff >= limit)!.cutOff!,
        origin: "pre-specified" as const,
      }));
      const figure = figures.rocFigure(curve, undefined, { marked, audience: "journal" });
      expect(await crossed(figure)).toEqual([]);
    },
  );

  it("is seen by the check where one does", async () => {
    const figure = figures.differenceAgainstMeanFigure(agreement, skew, { audience: "journal" });
    const { layer } = figure.spec as { layer: readonly object[] };
    const words = {
      data: { values: [{}] },
      mark: { type: "text" },
      encoding: { x: { value: 40 }, y: { value: 90 }, text: { value: "here stand many marks" } },
    };
    const wrong = { ...figure, spec: { layer: [...layer, words] } };
    expect(await crossed(wrong)).toContain('"here stand many marks" on a symbol');
  });

  // readings that tell anything from all to nothing, with marks anywhere on their curves
  it.each(Array.from({ length: 40 }, (_, seed) => seed))(
    "none where a curve runs anywhere, with up to five names, %i",
    async (seed) => {
      const random = createRandom(seed + 1);
      const apart = 3 * random.uniform() ** 2;
      const condition = Array.from({ length: 150 }, (_, row) => row % 3 === 0);
      const values = condition.map(
        (sick) =>
          Math.round(4 * (2 * random.uniform() + 2 * random.uniform() + (sick ? apart : 0))) / 4,
      );
      const curve = rocCurve({ values, condition }, { positiveWhen: "high" });
      const cutOffs = [...new Set(values)];
      const marked = Array.from({ length: 1 + random.integer(5) }, (_, at) => ({
        cutOff: cutOffs[random.integer(cutOffs.length)]!,
        origin: at === 0 ? ("pre-specified" as const) : ("chosen" as const),
      }));
      const figure = figures.rocFigure(curve, undefined, { marked, audience: "journal" });
      expect(await crossed(figure)).toEqual([]);
    },
  );
});
