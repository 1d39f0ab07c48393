import { describe, expect, it } from "vitest";
import { dark, darkColour } from "../../src/figures/darkColours.js";
import { colours, page, ramp } from "../../src/figures/theme.js";

type Triple = readonly [number, number, number];

/** Linear light of a colour "#rrggbb" (IEC 61966-2-1). */
function linear(hex: string): Triple {
  const part = (at: number) => {
    const share = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  };
  return [part(1), part(3), part(5)];
}

const triple = ([first, second, third]: readonly number[]): Triple => [first!, second!, third!];
const times = (matrix: readonly Triple[], [r, g, b]: Triple) =>
  triple(matrix.map((row) => row[0] * r + row[1] * g + row[2] * b));

// Full dichromacy: Machado, Oliveira and Fernandes 2009 (IEEE TVCG 15:1291), matrices for severity 1.0,
// compared with those of Machado's thesis (2010, hdl 10183/26950) as the Python library colour-science
// holds them (CVD_MATRICES_MACHADO2010): the 27 numbers are the same. Each row adds up to 1.
const visions: { readonly [name: string]: readonly Triple[] } = {
  usual: [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
  protanopia: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deuteranopia: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
  tritanopia: [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039],
  ],
};

/** CIE L*a*b* under D65. */
function lab(rgb: Triple): Triple {
  const [x, y, z] = times(
    [
      [0.4124564, 0.3575761, 0.1804375],
      [0.2126729, 0.7151522, 0.072175],
      [0.0193339, 0.119192, 0.9503041],
    ],
    triple(rgb.map((part) => Math.min(1, Math.max(0, part)))),
  );
  const f = (t: number) => (t > 216 / 24389 ? Math.cbrt(t) : (24389 / 27) * (t / 116) + 16 / 116);
  const [fx, fy, fz] = [f(x / 0.95047), f(y), f(z / 1.08883)];
  return [116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)];
}

const distance = (a: Triple, b: Triple) => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
const onLight = [colours.first, colours.second, colours.third, colours.ink];
const themes = [
  { theme: "light", series: onLight, paper: page },
  { theme: "dark", series: onLight.map((colour) => dark[colour]!), paper: dark[page]! },
];

/** Contrast of two colours (WCAG 2.2, "relative luminance" and "contrast ratio"). */
function contrast(one: string, other: string): number {
  const [low, high] = [one, other]
    .map((hex) => {
      const [r, g, b] = linear(hex);
      return 0.2126 * r + 0.7152 * g + 0.0722 * b + 0.05;
    })
    .sort((a, b) => a - b);
  return high! / low!;
}

describe.each(Object.entries(visions))("colours seen with %s colour vision", (_, matrix) => {
  const seen = (hex: string) => lab(times(matrix, linear(hex)));

  it("white stays white", () => {
    expect(distance(seen("#ffffff"), [100, 0, 0])).toBeLessThan(1);
  });

  it.each(themes)("the series are told apart in the $theme theme", ({ series, paper }) => {
    for (const [at, one] of series.entries()) {
      expect(distance(seen(one), seen(paper))).toBeGreaterThan(30);
      for (const other of series.slice(at + 1)) {
        expect(distance(seen(one), seen(other))).toBeGreaterThan(20);
      }
    }
  });

  it("the ramp goes steadily from light to dark", () => {
    const lightness = ramp.map((hex) => seen(hex)[0]);
    for (let at = 1; at < lightness.length; at++) {
      expect(lightness[at - 1] - lightness[at]).toBeGreaterThan(8);
    }
  });
});

describe.each(themes)("lines and marks in the $theme theme", ({ theme, paper }) => {
  it("have 3:1 against the page (WCAG 2.2, 1.4.11)", () => {
    const lines = [colours.ink, colours.first, colours.second, colours.third];
    for (const colour of [...lines, colours.quiet, colours.faint]) {
      const drawn = theme === "dark" ? dark[colour]! : colour;
      expect(contrast(drawn, paper), colour).toBeGreaterThan(3);
    }
  });
});

describe("a contrast", () => {
  it("is that of the standard's own example", () => {
    // WCAG 2.2, understanding 1.4.3: #777777 on white is 4.48:1
    expect(contrast("#777777", "#ffffff")).toBeCloseTo(4.48, 2);
    expect(contrast("#000000", "#ffffff")).toBeCloseTo(21, 6);
  });
});

describe("the ramp on a dark page", () => {
  it("goes from near the page to light", () => {
    const shades = ramp.map((hex) => lab(linear(darkColour(hex)!))[0]);
    for (let at = 1; at < shades.length; at++) {
      expect(shades[at]! - shades[at - 1]!).toBeGreaterThan(8);
    }
    expect(darkColour("rgb(255, 255, 0)")).toMatch(/^#[0-9a-f]{6}$/);
    expect(darkColour("none")).toBeUndefined();
  });
});

describe.each(themes)("in grey, $theme", ({ series }) => {
  it("the series differ in lightness", () => {
    const grey = series.map((hex) => lab(linear(hex))[0]).sort((a, b) => a - b);
    for (let at = 1; at < grey.length; at++) {
      expect(grey[at] - grey[at - 1]).toBeGreaterThan(8);
    }
  });
});
