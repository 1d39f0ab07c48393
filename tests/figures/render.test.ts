import { inflateSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { limitsOfAgreement } from "../../src/agreement/index.js";
import { differenceAgainstMeanFigure, render, renderSync } from "../../src/figures/index.js";
import { createRandom } from "../../src/inference/index.js";

const figureOf = (n: number) => {
  const random = createRandom(13);
  const reference = Array.from({ length: n }, () => Math.round(random.normal() * 8) / 4);
  const test = reference.map((value) => value + Math.round(random.normal() * 4) / 8);
  const pairs = { test, reference };
  return differenceAgainstMeanFigure(limitsOfAgreement(pairs), pairs, { audience: "journal" });
};

describe("render", () => {
  it("writes the dots per inch into a PNG of the stated size", async () => {
    const figure = figureOf(40);
    for (const dpi of [150, 600]) {
      const png = Buffer.from(await render(figure, { format: "png", dpi }));
      expect(png.subarray(1, 4).toString("latin1")).toBe("PNG");
      // IHDR: width and height (PNG specification, 11.2.2)
      expect(Math.abs(png.readUInt32BE(16) - (figure.widthMm / 25.4) * dpi)).toBeLessThanOrEqual(1);
      expect(Math.abs(png.readUInt32BE(20) - (figure.heightMm / 25.4) * dpi)).toBeLessThanOrEqual(
        2,
      );
      const physical = png.indexOf("pHYs", 0, "latin1");
      expect(Math.round(png.readUInt32BE(physical + 4) * 0.0254)).toBe(dpi);
    }
    await expect(render(figure, { format: "png", dpi: 10 })).rejects.toThrow(/dpi from 36 to 2400/);
  });

  it("writes a PDF with text as text", async () => {
    const pdf = Buffer.from(await render(figureOf(40), { format: "pdf" })).toString("latin1");
    expect(pdf.startsWith("%PDF-")).toBe(true);
    expect(pdf).toContain("/Font");
    expect(pdf).toContain("/ToUnicode");
  });

  it("draws on the PDF's page at the size of a point, so that nothing is cut off", async () => {
    const pdf = Buffer.from(await render(figureOf(40), { format: "pdf" })).toString("latin1");
    const [, stream] = /stream\r?\n([\s\S]*?)endstream/.exec(pdf)!;
    const content = inflateSync(Buffer.from(stream!, "latin1")).toString("latin1");
    const scales = [...content.matchAll(/^([-\d.]+) 0 0 ([-\d.]+) \S+ \S+ cm$/gm)];
    expect(scales.length).toBeGreaterThan(5);
    expect(new Set(scales.map(([, x, y]) => `${x} ${y}`))).toEqual(new Set(["1 -1", "1 1"]));
  });

  it("gives the same bytes twice, in a worker, and beside others", async () => {
    // the second has a legend with a gradient, which the drawing refers to by an id
    const many = figureOf(20_000);
    for (const figure of [figureOf(40), many]) {
      const svg = await render(figure);
      expect(await render(figure)).toBe(svg);
      expect(renderSync(figure).svg).toBe(svg);
      const together = await Promise.all([figure, figureOf(400), figure].map((one) => render(one)));
      expect(together[0]).toBe(svg);
      expect(together[2]).toBe(svg);
    }
    const svg = await render(many);
    const [, id] = / id="([^"]+)"/.exec(svg)!;
    expect(svg).toContain(`url(#${id})`);
  });

  it("keeps 100,000 points under 1 MB, binned and said so", async () => {
    const figure = figureOf(100_000);
    expect((await render(figure)).length).toBeLessThan(1_000_000);
    expect(figure.caption).toMatch(/Shading: number in cells/);
  });

  it("draws one pair more than the fewest", async () => {
    expect((await render(figureOf(3))).startsWith("<svg")).toBe(true);
  });
});
