import { create, type Font } from "fontkit";
import { describe, expect, it } from "vitest";
import { dark, darkColour } from "../../src/figures/darkColours.js";
import { limitHeatMapFigure, render } from "../../src/figures/index.js";
import { chartSvg } from "../../src/figures/render/chartSvg.js";
import { page } from "../../src/figures/theme.js";
import { cases, space } from "./cases.js";
import { contrast, type Mark, marksOf, mixed } from "./drawnMarks.js";
import { planesOf } from "./planes.js";

// what holds for every figure, whatever it shows

describe.each(cases)("$name, as it is shown", ({ draw }) => {
  const figure = draw();
  const drawing = chartSvg(figure);

  it("has its title and its description", async () => {
    const svg = await render(figure);
    expect(svg).toMatch(/^<svg[^>]* role="img"><title>[^<]+<\/title><desc>[^<]+<\/desc>/);
  });

  it("carries every letter it shows", async () => {
    const { screen, svg } = await drawing;
    const faces = [
      ...screen.matchAll(
        /font-family:'(Letters of [\w-]+)';font-weight:(\d+);src:url\(data:font\/woff;base64,([\w+/=%]+)\)/g,
      ),
    ];
    const carried = new Map(
      faces.map(([, , weight, data]) => [
        weight,
        create(Buffer.from(decodeURIComponent(data!), "base64")) as Font,
      ]),
    );
    for (const [, attributes, content] of svg.matchAll(/<text([^>]*)>(.*?)<\/text>/g)) {
      const weight = /font-weight="(?:600|bold)"/.test(attributes!) ? "600" : "400";
      for (const letter of content!.replace(/<[^>]+>/g, "").replace(/&\w+;/g, "")) {
        expect(carried.get(weight)!.hasGlyphForCodePoint(letter.codePointAt(0)!), letter).toBe(
          true,
        );
      }
    }
    expect(screen).toContain(`font-family="'${faces[0]![1]}','Source Sans 3', sans-serif"`);
  });

  it("has 3:1 for each line and mark, on a light and on a dark page", async () => {
    const { svg } = await drawing;
    const marks = marksOf(svg);
    const faint = marks.filter((mark) => !seen(mark, page, (colour) => colour));
    expect(faint).toEqual([]);
    const dim = marks.filter((mark) => !seen(mark, dark[page]!, darkOf));
    expect(dim).toEqual([]);
  });

  it("has a dark colour for each of its colours", async () => {
    const { screen, svg } = await drawing;
    const light = new Set(
      [...svg.matchAll(/ (?:fill|stroke)="(#\w+|rgb[^"]+)"/g)].map(([, colour]) => colour!),
    );
    for (const colour of light) expect(screen).toContain(`="${colour}"]{`);
    expect(await render(figure, { theme: "light" })).not.toContain("prefers-color-scheme");
    const always = await render(figure, { theme: "dark" });
    expect(always).not.toContain("@media");
    expect(always).toContain(`[fill="${page}"]{fill:${dark[page]}}`);
  });
});

/** A mark is seen by its filling or by its edge; what has the page's colour is a rim or a hole of another. */
function seen(
  { fill, stroke }: Mark,
  paper: string,
  colourOf: (colour: string) => string,
): boolean {
  const paints = [fill, stroke].filter((paint) => paint !== null && paint.colour !== page);
  return (
    paints.length === 0 ||
    paints.some(
      (paint) => contrast(mixed(colourOf(paint!.colour), paper, paint!.opacity), paper) >= 3,
    )
  );
}

const darkOf = (colour: string): string => darkColour(colour) ?? colour;

// axes of rates go from 0 to 1 and no further; their marks may stand on the edge, and are not cut
const onTheEdge = /^(roc|limit|study-size)/;

describe.each(cases)("$name, its marks", ({ name, draw }) => {
  it("stand inside the plane, whole", async () => {
    const planes = await planesOf(draw());
    for (const { width, height, marks } of planes) {
      expect(marks.filter(({ clipped }) => clipped)).toEqual([]);
      const room = onTheEdge.test(name) ? 4 : 0;
      const beyond = marks.filter(
        ({ x, y, radius }) =>
          Math.min(x, y) < radius - room || x > width - radius + room || y > height - radius + room,
      );
      expect(beyond).toEqual([]);
    }
  });
});

describe("planes side by side", () => {
  const several = [
    "difference-panels",
    "difference-panels-eyes",
    "vector-projections",
    "double-angle-two",
  ];
  it.each(several)("%s: have one scale", async (name) => {
    const planes = await planesOf(cases.find((one) => one.name === name)!.draw());
    expect(planes.length).toBeGreaterThan(1);
    for (const axis of ["x", "y"] as const) {
      // a plane without points has no axis of means
      const scales = planes.flatMap((plane) => (plane[axis] === undefined ? [] : [plane[axis]]));
      expect(new Set(scales.map((one) => JSON.stringify(one))).size).toBe(1);
    }
  });

  it.each(["public", "journal"] as const)(
    "two maps of a space are shaded alike for the audience %s",
    (audience) => {
      const [first, second] = (["sensitivity", "specificity"] as const).map((show) => {
        const { spec } = limitHeatMapFigure(space, { show, audience });
        const [cells] = spec.layer as { encoding: { color: { scale: unknown } } }[];
        return cells!.encoding.color.scale;
      });
      expect(first).toEqual(second);
    },
  );
});

describe("bands", () => {
  it.each(cases.filter(({ name }) => /^difference-/.test(name)))(
    "of $name lie above the marks",
    async ({ draw }) => {
      const { svg } = await chartSvg(draw());
      // the planes of several follow each other
      for (const plane of svg.split('class="background"').slice(1)) {
        const lastMark = plane.lastIndexOf('aria-roledescription="symbol mark container"');
        const firstBand = plane.indexOf('fill-opacity="0.2"');
        if (lastMark >= 0 && firstBand >= 0) expect(firstBand).toBeGreaterThan(lastMark);
      }
    },
  );
});
