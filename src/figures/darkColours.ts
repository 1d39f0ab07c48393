import { colours, page } from "./theme.js";

/** The figure's colours on a dark page, each with at least 3:1 against it and told apart alike. */
export const dark: { readonly [light: string]: string } = {
  [page]: "#16191d",
  [colours.ink]: "#ecebe7",
  [colours.first]: "#6085df",
  [colours.second]: "#ed9246",
  [colours.third]: "#77e096",
  [colours.quiet]: "#a2a9b3",
  [colours.faint]: "#7f868f",
};

const parsed = /^#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})$|^rgb\((\d+), (\d+), (\d+)\)$/;

/**
 * A colour on the dark page: its own pair, or between the dark page and white what it was between
 * white and black, so that a ramp of shades goes the other way round. Undefined for what is no colour.
 */
export function darkColour(light: string): string | undefined {
  const own = dark[light];
  if (own !== undefined) return own;
  const parts = parsed.exec(light)?.slice(1);
  if (parts === undefined) return undefined;
  const rgb =
    parts[0] === undefined
      ? parts.slice(3).map(Number)
      : parts.slice(0, 3).map((hex) => Number.parseInt(hex, 16));
  // lightness turned over, hue kept: each channel moves by what the lightest and the darkest add up to
  const turn = 255 - Math.max(...rgb) - Math.min(...rgb);
  const floor = 30;
  return `#${rgb.map((one) => hexOf(floor + ((one + turn) / 255) * (255 - floor))).join("")}`;
}

const hexOf = (value: number): string => Math.round(value).toString(16).padStart(2, "0");
