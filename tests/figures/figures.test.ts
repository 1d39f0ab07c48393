// How each is drawn on its page is in drawn.slow.ts.
import { linearEstimate } from "../../src/results/index.js";
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import * as figures from "../../src/figures/index.js";
import { drawnPicture } from "../../src/figures/render/drawnPicture.js";
import * as meridional from "../../src/index.js";
import type { Estimate } from "../../src/results/index.js";
import { cases, limits, pairs } from "./cases.js";
import { deepFreeze } from "./deepFreeze.js";
import { validVegaLite } from "./vegaLiteSchema.js";

const golden = join(import.meta.dirname, "../golden");

describe.each(cases)("$name", ({ name, draw, input, n, estimates, numbers }) => {
  deepFreeze(input);
  const figure = draw();

  it("is valid by the schema of Vega-Lite", () => {
    validVegaLite(figure.spec);
    expect(validVegaLite.errors ?? []).toEqual([]);
  });

  it("equals its golden specification", () => {
    const file = join(golden, `${name}.vl.json`);
    const text = `${JSON.stringify(rounded(figure.spec), null, 1)}\n`;
    if (process.env.REGENERATE_GOLDEN === "1" || !existsSync(file)) {
      if (process.env.CI) throw new Error(`no golden specification ${name}`);
      mkdirSync(golden, { recursive: true });
      writeFileSync(file, text);
    }
    expect(text).toBe(readFileSync(file, "utf8"));
  });

  it("says n, the estimate and its interval in words", () => {
    expect(numbersIn(figure.alt)).toContain(n);
    expect(numbersIn(figure.caption.replaceAll(",", ""))).toContain(n);
    const said = printedIn(figure.alt);
    for (const estimate of estimates) {
      const message = `${estimate.value} (${estimate.low} to ${estimate.high}) in: ${figure.alt}`;
      // rates stand in percent where tables have them so
      const inPercent = linearEstimate(estimate, 100);
      expect(saysEstimate(said, estimate) || saysEstimate(said, inPercent), message).toBe(true);
    }
    for (const value of numbers) {
      const stated = said.some((printed) => stands(printed, value) || stands(printed, 100 * value));
      expect(stated, `${value} in: ${figure.alt}`).toBe(true);
    }
  });

  it("names the unit of every numeric axis", () => {
    const titles = axisTitles(figure.spec);
    for (const title of titles) expect(title).toMatch(/\([^()]+\)$/);
  });
});

describe("what is drawn", () => {
  it("is what is tabulated: the lines stand at the limits of the result", () => {
    const { spec } = cases.find(({ name }) => name === "difference-against-mean")!.draw();
    type Layer = { mark: { type: string; color: string }; data: { values: { y: number }[] } };
    // without the white edges below the lines
    const rules = (spec.layer as Layer[])
      .filter(({ mark }) => mark.type === "rule" && mark.color !== "#ffffff")
      .map(({ data }) => data.values[0]!.y);
    expect(rules).toEqual([0, limits.upper.value, limits.bias.value, limits.lower.value]);
  });

  // every estimate of the result with both ends; of these figures the value alone
  const valueAlone = ["folded-differences"];
  const byLine = [
    "difference-against-mean-eyes",
    "difference-against-mean-lines",
    "folded-differences",
    "bias-by-age-years-every-group",
    "forest",
    "forest-small",
    "predictive-values",
    "net-benefit",
    "verification-bounds",
    "score-trade-off",
  ];

  it.each(byLine)("%s: stands at the numbers of the result, to the last digit", (name) => {
    const { draw, estimates } = cases.find((one) => one.name === name)!;
    const places = new Set<unknown>();
    JSON.stringify(draw().spec, (_, item) => {
      if (typeof item === "number") places.add(item);
      return item;
    });
    expect(estimates.length).toBeGreaterThan(0);
    for (const { value, low, high } of estimates) {
      const wanted = valueAlone.includes(name) ? [value] : [value, low, high];
      for (const number of wanted) expect(places, `${number} of ${name}`).toContain(number);
    }
  });

  it("is seen by the checks when it is wrong", async () => {
    const figure = cases[0]!.draw();
    const misspelt = { ...figure.spec, layer: [{ mark: "rectangel" }] };
    expect(validVegaLite(misspelt)).toBe(false);
    const wide = {
      ...figure,
      spec: {
        ...figure.spec,
        autosize: { type: "none", contains: "padding" },
      },
    };
    expect((await drawnPicture(wide)).edges).not.toEqual([]);
    expect(() => deepFreeze(pairs).test.push(1)).toThrow();
    const said = printedIn(figure.alt);
    expect(saysEstimate(said, limits.bias as Estimate)).toBe(true);
    expect(saysEstimate(said, { ...(limits.bias as Estimate), high: -0.21 })).toBe(false);
  });
});

describe("every figure", () => {
  // those of the public face whose result is a specification
  const face = new Set(Object.keys(meridional));
  const names = Object.keys(figures).filter((name) => face.has(name) && !name.startsWith("render"));

  it("is in the gallery and among the cases", () => {
    const gallery = readFileSync(join(import.meta.dirname, "../../figures/gallery.mjs"), "utf8");
    const drawn = cases.map(({ draw }) => draw.toString()).join();
    for (const name of names) {
      expect(gallery).toContain(`${name}(`);
      expect(drawn).toMatch(new RegExp(`\\b${name}\\)?\\(`));
    }
  });

  it("has a golden specification, and no specification lacks its figure", () => {
    const kept = readdirSync(golden).map((file) => file.replace(".vl.json", ""));
    expect(kept.sort()).toEqual(cases.map(({ name }) => name).sort());
  });
});

/** Numbers to six significant digits, so that the last bit of a machine does not matter. */
function rounded(value: unknown): unknown {
  return JSON.parse(
    JSON.stringify(value, (_, item) =>
      typeof item === "number" ? Number(item.toPrecision(6)) : item,
    ),
  );
}

interface Printed {
  readonly value: number;
  readonly decimals: number;
}

/** The numbers of a text with the decimals they are printed with. */
function printedIn(text: string): readonly Printed[] {
  return [...text.matchAll(/(−?)(\d+(?:\.(\d+))?)/g)].map(([, sign, digits, after = ""]) => ({
    value: (sign === "" ? 1 : -1) * Number(digits),
    decimals: after.length,
  }));
}

function numbersIn(text: string): readonly number[] {
  return printedIn(text).map(({ value }) => value);
}

/** Whether a printed number is the value, rounded to its last decimal. */
function stands({ value: printed, decimals }: Printed, value: number): boolean {
  return Math.abs(printed - value) <= 0.5 * 10 ** -decimals + 1e-9;
}

/** The value, then its level in per cent, then both ends. */
function saysEstimate(said: readonly Printed[], { value, low, high, level }: Estimate): boolean {
  return said.some((_, at) =>
    [value, level * 100, low, high].every((number, next) => {
      const printed = said[at + next];
      return printed !== undefined && stands(printed, number);
    }),
  );
}

function axisTitles(part: unknown): string[] {
  if (typeof part !== "object" || part === null) return [];
  if (Array.isArray(part)) return part.flatMap(axisTitles);
  const { type, axis } = part as { type?: string; axis?: { title?: string | null } | null };
  const own = type === "quantitative" && axis && typeof axis.title === "string" ? [axis.title] : [];
  return [...own, ...Object.values(part).flatMap(axisTitles)];
}
