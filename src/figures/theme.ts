/** Widths of journal columns in millimetres. */
export const columnMm = { single: 84, oneAndHalf: 120, double: 174 } as const;

/** Points (1/72 inch), the unit of a specification, in a length in millimetres. */
export const pointsPerMm = 72 / 25.4;

export const fontFamily = "Source Sans 3";

/**
 * Colours that differ in lightness, so that they can be told apart in grey and by every kind of
 * colour vision; meaning is carried by words and line pattern as well. Lines and marks have at least
 * 3:1 against the page (WCAG 2.2, 1.4.11); a band's filling has less, and an edge that has it.
 */
export const colours = {
  ink: "#1c1c1c",
  first: "#1f4e8c",
  second: "#bd5814",
  third: "#459991",
  quiet: "#6b6b6b",
  faint: "#8a8a8a",
  firstBand: "#c3d3e8",
  secondBand: "#f1d3bd",
} as const;

/** From few to many: one hue from light to dark. */
export const ramp = ["#dbe6f3", "#9dbde0", "#5a8cc4", "#20508e", "#0d2444"] as const;

export const dashes = {
  long: [6, 3],
  short: [2.5, 2],
  dotted: [1, 2],
  mixed: [6, 2, 1.5, 2],
} as const;

export type Dash = "solid" | keyof typeof dashes;

/** The line pattern as part of a mark; a solid line has none. */
export function dashed(dash: Dash): { readonly strokeDash?: readonly number[] } {
  return dash === "solid" ? {} : { strokeDash: dashes[dash] };
}

/** The page behind every figure. */
export const page = "#ffffff";

/** What a band of values is filled with, and the edge that shows where it ends. */
export function bandLook(colour: "first" | "second" | "quiet") {
  return {
    color: colours[colour],
    fillOpacity: 0.2,
    stroke: colours[colour],
    strokeWidth: sizes.thin,
    strokeOpacity: 1,
  } as const;
}

/** A white edge below a line or a mark, so that it stands out from the cells behind it. */
export const halo = { color: page, opacity: 1, extraWidth: 1.4 } as const;

/** Sizes in points. */
export const sizes = { text: 8, small: 8, line: 1.1, thin: 0.6, point: 9 } as const;

/** The configuration of every figure. */
export const config = {
  font: fontFamily,
  background: page,
  view: { stroke: null },
  axis: {
    labelFont: fontFamily,
    titleFont: fontFamily,
    labelFontSize: sizes.text,
    titleFontSize: sizes.text,
    titleFontWeight: 600,
    labelColor: colours.ink,
    titleColor: colours.ink,
    domainColor: colours.ink,
    tickColor: colours.ink,
    domainWidth: sizes.thin,
    tickWidth: sizes.thin,
    tickSize: 3,
    labelPadding: 2,
    labelFlush: false,
    zindex: 1,
    titlePadding: 4,
    grid: false,
    labelLimit: 400,
    titleLimit: 0,
  },
  legend: {
    labelFont: fontFamily,
    titleFont: fontFamily,
    labelFontSize: sizes.text,
    titleFontSize: sizes.text,
    titleFontWeight: 600,
    labelColor: colours.ink,
    titleColor: colours.ink,
    labelLimit: 400,
    symbolStrokeWidth: sizes.line,
    gradientStrokeColor: colours.quiet,
    gradientStrokeWidth: 0.3,
  },
  header: {
    labelFont: fontFamily,
    titleFont: fontFamily,
    labelFontSize: sizes.text,
    labelFontWeight: 600,
    titleFontSize: sizes.text,
  },
  title: { font: fontFamily, fontSize: sizes.text, fontWeight: 600, color: colours.ink },
  text: { font: fontFamily, fontSize: sizes.small, color: colours.ink },
  line: { strokeWidth: sizes.line, color: colours.first },
  rule: { strokeWidth: sizes.line, color: colours.ink },
  point: { size: sizes.point, filled: true, opacity: 1, color: colours.first },
  bar: { color: colours.first },
  rect: { color: colours.first },
} as const;
