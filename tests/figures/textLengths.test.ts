import { describe, expect, it } from "vitest";
import { loadTextWidth } from "../../src/figures/fonts.js";
import { render } from "../../src/figures/index.js";
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
});
