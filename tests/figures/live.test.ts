import fc from "fast-check";
import { parse, View } from "vega";
import { compile } from "vega-lite";
import { describe, expect, it } from "vitest";
import { limitFigure, linkedFigures, liveSpec } from "../../src/figures/index.js";
import { accuracyAtCutOffs, rocCurve } from "../../src/thresholds/index.js";
import { cases } from "./cases.js";
import { validVegaLite } from "./vegaLiteSchema.js";

type Part = { readonly [key: string]: unknown };

/** Every row of data of a specification, in the order in which it stands. */
function rowsIn(part: unknown): unknown[] {
  if (typeof part !== "object" || part === null) return [];
  if (Array.isArray(part)) return part.flatMap(rowsIn);
  return Object.entries(part).flatMap(([key, value]) =>
    key === "values" && Array.isArray(value) && typeof value[0] === "object"
      ? value
      : rowsIn(value),
  );
}

const tooltipsIn = (part: unknown): Part[] => {
  if (typeof part !== "object" || part === null) return [];
  if (Array.isArray(part)) return part.flatMap(tooltipsIn);
  return Object.entries(part).flatMap(([key, value]) =>
    key === "tooltip" ? (value as Part[]) : tooltipsIn(value),
  );
};

function compiled(spec: object) {
  const warnings: string[] = [];
  const warn = (...messages: unknown[]) => {
    warnings.push(messages.join(" "));
    return logger;
  };
  const quiet = () => logger;
  const logger = { level: quiet, error: warn, warn, info: quiet, debug: quiet };
  const chart = compile(structuredClone(spec) as never, { logger: logger as never }).spec;
  return { chart, warnings };
}

const random = (seed: number, n: number) =>
  Array.from({ length: n }, (_, row) => (Math.sin(seed + row * 12.9898) * 43758.5453) % 1);
const vectors = (seed: number, n: number) => {
  const [M, J0, J45] = [1, 2, 3].map((part) => random(seed + part, n));
  return M!.map((value, row) => ({ M: 4 * value - 2, J0: J0![row]! / 2, J45: J45![row]! / 2 }));
};
const eyes = (n: number, audience: "journal" | "public") => ({
  test: vectors(1, n),
  reference: vectors(7, n),
  ageYears: random(5, n).map((value) =>
    value > 0.9 ? Number.NaN : 6 + Math.floor(Math.abs(value) * 10),
  ),
  audience,
});
const values = random(3, 400).map((value) => Math.round(16 * value) / 4);
const condition = values.map((value, row) => value + (row % 5) / 2 > 2);
const curveFor = (audience: "journal" | "public") =>
  rocCurve({ values, condition, audience }, { positiveWhen: "high" });

describe("every figure that answers", () => {
  it.each(cases)(
    "$name: valid, compiles without a warning, holds no number that is not drawn",
    ({ draw }) => {
      const figure = draw();
      const before = JSON.stringify(figure);
      const spec = liveSpec(figure);
      expect(JSON.stringify(figure)).toBe(before);
      expect(validVegaLite(spec), JSON.stringify(validVegaLite.errors?.slice(0, 3))).toBe(true);
      expect(compiled(spec).warnings).toEqual([]);
      expect(rowsIn(spec)).toEqual(rowsIn(figure.spec));
      const drawn = new Set(rowsIn(figure.spec).flatMap((row) => Object.keys(row as object)));
      for (const { field } of tooltipsIn(spec)) expect(drawn).toContain(field);
    },
  );
});

describe("a limit that moves", () => {
  const curve = curveFor("journal");
  const figure = limitFigure(curve, accuracyAtCutOffs(curve), { limit: 2 });

  it("shows the counts, rates and per-1,000 of the limit at which the slider stands", async () => {
    const view = new View(parse(compiled(liveSpec(figure)).chart), { renderer: "none" });
    const [{ bind }] = figure.spec.params as [{ bind: { max: number } }];
    const cutOffs = curve.points.filter(({ cutOff }) => cutOff !== null);
    expect(bind.max).toBe(cutOffs.length - 1);
    for (const at of [0, 3, bind.max]) {
      await view.signal("limit", at).runAsync();
      const svg = await view.toSVG();
      const { cutOff, truePositive, falsePositive, falseNegative } = cutOffs[at]!;
      expect(svg).toContain(
        `Refer when ≥ ${cutOff! > 0 ? "+" : cutOff! < 0 ? "−" : ""}${Math.abs(cutOff!).toFixed(2)} D`,
      );
      expect(svg).toContain(`referred, with: ${truePositive}<`);
      expect(svg).toContain(`passed, with: ${falseNegative}<`);
      expect(svg).toContain(
        `referred ${Math.round((1000 * (truePositive + falsePositive)) / 400)}<`,
      );
    }
    view.finalize();
  });

  it("for the public stops only where the curve is shown, with coarse counts", () => {
    const coarse = curveFor("public");
    const limits = coarse.points.flatMap(({ cutOff }) => (cutOff === null ? [] : [cutOff]));
    const made = limits.flatMap((limit) => {
      try {
        return [limitFigure(coarse, accuracyAtCutOffs(coarse), { limit })];
      } catch (error) {
        expect((error as Error).message).toContain("among the cut-offs that can be shown");
        return [];
      }
    });
    expect(made.length).toBeGreaterThan(0);
    expect(made.length).toBeLessThan(limits.length);
    for (const { spec } of made) {
      const counts = rowsIn(spec).flatMap((row) =>
        ["truePositive", "falsePositive", "falseNegative", "trueNegative"].map(
          (name) => (row as Part)[name] as string | undefined,
        ),
      );
      for (const words of counts) {
        if (words !== undefined) expect(words).toMatch(/: (fewer than 11|[\d,]*[05])$/);
      }
    }
  });

  it("refuses another curve's cut-offs and a limit that is none", () => {
    const other = rocCurve({ values: [1, 2], condition: [0, 1] }, { positiveWhen: "high" });
    expect(() => limitFigure(curve, accuracyAtCutOffs(other), { limit: 2 })).toThrow(
      "limitFigure requires accuracyAtCutOffs of the same curve",
    );
    expect(() => limitFigure(curve, accuracyAtCutOffs(curve), { limit: 2.1 })).toThrow(
      "got 2.1; there are",
    );
  });
});

describe("a selection that goes across", () => {
  it("marks the same eyes in every view, and is drawn without a frame on paper", () => {
    const figure = linkedFigures(eyes(300, "journal"), ["difference", "double-angle", "age"]);
    expect(compiled(figure.spec).warnings).toEqual([]);
    expect(figure.spec.params).toBeUndefined();
    const live = liveSpec(figure);
    expect(live.params).toMatchObject([
      { name: "chosen", views: ["difference", "double-angle", "age"] },
    ]);
    expect(live.hconcat).toHaveLength(3);
    for (const { layer } of live.hconcat as { layer: Part[] }[]) {
      expect(layer[0]).toMatchObject({ encoding: { color: { condition: { param: "chosen" } } } });
    }
    expect(rowsIn(figure.spec).filter((row) => "meanM" in (row as object))).toHaveLength(300);
    expect(JSON.stringify(live).length).toBeLessThan(60_000);
    for (const row of rowsIn(figure.spec) as Part[]) {
      for (const [name, value] of Object.entries(row)) {
        if (typeof value === "number")
          expect(Math.abs(value) % (name === "ageYears" ? 3 : 0.25)).toBe(0);
      }
    }
    // the age is there only where it is asked for
    expect(JSON.stringify(linkedFigures(eyes(300, "journal")).spec)).not.toContain("ageYears");
  });

  it("is not there for the public, whatever the eyes (law)", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 200 }), fc.integer({ min: 1, max: 9 }), (n, seed) => {
        const figure = linkedFigures({ ...eyes(n, "public"), test: vectors(seed, n) }, [
          "age",
          "difference",
          "double-angle",
        ]);
        const live = liveSpec(figure);
        expect(live.params).toBeUndefined();
        for (const row of rowsIn(live) as Part[]) {
          if ("n" in row) expect(row.n).toBeGreaterThanOrEqual(11);
          expect(row).not.toHaveProperty("meanM");
        }
      }),
      { numRuns: 40 },
    );
  });

  it("is not there beyond 4,000 eyes, and refuses what it cannot draw", () => {
    expect(liveSpec(linkedFigures(eyes(4001, "journal"))).params).toBeUndefined();
    const some = eyes(30, "journal");
    expect(() => linkedFigures(some, ["age"])).toThrow("two or three different views, got age");
    expect(() => linkedFigures({ ...some, ageYears: undefined }, ["difference", "age"])).toThrow(
      'requires ageYears for the view "age"',
    );
    expect(() => linkedFigures({ ...some, reference: vectors(1, 3) })).toThrow(
      "columns of one length",
    );
  });
});
