import { Resvg } from "@resvg/resvg-js";
import { describe, expect, it } from "vitest";
import { withShortDots } from "../../src/figures/render/manyDots.js";

const dot = (x: number, y: number, opacity: number) =>
  `<path transform="translate(${x},${y})" d="M3,0A3,3,0,1,1,-3,0A3,3,0,1,1,3,0" fill="#1f4e8c" stroke-width="2" opacity="${opacity}"/>`;
const page = (marks: string) =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="300" height="300" viewBox="0 0 100 100"><rect width="100" height="100" fill="#fff"/><g>${marks}</g></svg>`;
const pixels = (svg: string) => new Resvg(svg).render().pixels;
// two opacities, and dots that lie over each other
const marks = Array.from({ length: 120 }, (_, at) =>
  dot(10 + ((at * 7) % 80), 10 + ((at * 13) % 80), at < 70 ? 0.5 : 0.3),
).join("");

function greatestDifference(one: Uint8Array, other: Uint8Array): number {
  return one.reduce((most, value, at) => Math.max(most, Math.abs(value - other[at]!)), 0);
}

describe("long runs of dots", () => {
  it("look the same, overlaps included, in a third of the room", () => {
    const [long, short] = [page(marks), withShortDots(page(marks))];
    expect(short.length).toBeLessThan(long.length / 3);
    expect(short.match(/h\.01/g)).toHaveLength(120);
    // edges of a dot differ by the hundredth of a point that its line is long
    expect(greatestDifference(pixels(long), pixels(short))).toBeLessThan(40);
    const moved = page(marks.replace("translate(10,10)", "translate(16,10)"));
    expect(greatestDifference(pixels(long), pixels(withShortDots(moved)))).toBeGreaterThan(60);
  });

  it("leave short runs and other marks alone", () => {
    const few = page(dot(10, 10, 0.5).repeat(10));
    expect(withShortDots(few)).toBe(few);
  });
});
