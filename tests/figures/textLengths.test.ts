import { describe, expect, it } from "vitest";
import { render } from "../../src/figures/index.js";
import { loadTextWidth } from "../../src/figures/render/fonts.js";
import { withTextLengths } from "../../src/figures/render/textLengths.js";
import { cases } from "./cases.js";

describe("the length of every text", () => {
  it("is that of the bundled font, whatever letters a viewer has", async () => {
    const textWidth = await loadTextWidth();
    const figure = cases.find(({ name }) => name === "interval-match")!.draw();
    const svg = await render(figure);
    const texts = [...svg.matchAll(/<text([^>]*)>([^<]+)<\/text>/g)];
    expect(texts.length).toBeGreaterThan(10);
    for (const [, attributes, content] of texts) {
      const stated = Number(/textLength="([\d.]+)"/.exec(attributes!)![1]);
      const size = Number(/font-size="([\d.]+)px"/.exec(attributes!)![1]);
      const weight = /font-weight="([^"]+)"/.exec(attributes!)?.[1] ?? null;
      expect(stated).toBeCloseTo(textWidth(content!, size, weight), 2);
    }
  });

  it("is stated line by line, and not for a text without letters", () => {
    const width = (line: string, size: number, weight?: string | number | null) =>
      line.length * size * (weight === "600" ? 0.75 : 0.5);
    const empty = '<text font-size="8px"></text><text font-size="8px"/><path d="M0,0"/>';
    const two =
      '<text aria-label="a > b" font-size="8px" font-weight="600"><tspan>a&lt;b</tspan><tspan x="0" dy="9">c</tspan></text>';
    const drawn = withTextLengths(`${empty}${two}`, width);
    expect(drawn.match(/<tspan[^>]*>/g)).toEqual([
      '<tspan textLength="18" lengthAdjust="spacingAndGlyphs">',
      '<tspan x="0" dy="9" textLength="6" lengthAdjust="spacingAndGlyphs">',
    ]);
    expect(drawn.replace(/ textLength="\d+" lengthAdjust="spacingAndGlyphs"/g, "")).toBe(
      `${empty}${two}`,
    );
  });
});
