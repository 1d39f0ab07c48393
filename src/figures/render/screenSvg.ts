import { base64 } from "../../platform/index.js";
import { darkColour } from "../darkColours.js";
import { fontFamily } from "../theme.js";
import { fontSubset } from "./fontSubset.js";
import { type Fonts, isBold } from "./fonts.js";
import { textLines } from "./textLengths.js";
import { woff } from "./woff.js";

/** Which page a figure is drawn for: a light one, a dark one, or whichever the reader has. */
export type Theme = "light" | "dark" | "page";

/**
 * A drawing for viewers: it carries its letters, and on a dark page its dark colours. What is printed
 * stays light. Converters to pixels and pages take the drawing without it, in the bundled fonts.
 */
export function screenSvg(
  svg: string,
  { stem, fonts, theme }: { readonly stem: string; readonly fonts: Fonts; readonly theme: Theme },
): string {
  // of its own for each figure: several on one page hold different letters
  const family = `Letters of ${stem}`;
  const style = [lettersStyle(svg, family, fonts), darkStyle(svg, theme)].join("");
  return svg
    .replace(/<rect /, `<style>${style}</style><rect `)
    .replaceAll(`font-family="'${fontFamily}'`, `font-family="'${family}','${fontFamily}'`);
}

/** The letters that the drawing has, of each weight. */
function lettersStyle(svg: string, family: string, fonts: Fonts): string {
  const lines = textLines(svg);
  const faces = [
    { font: fonts.regular, weight: 400, own: lines.filter(({ weight }) => !isBold(weight)) },
    { font: fonts.semibold, weight: 600, own: lines.filter(({ weight }) => isBold(weight)) },
  ].map(({ font, weight, own }) => {
    if (own.length === 0) return "";
    const texts = own.map(({ text }) => text);
    const source = unlikeIds(base64(woff(fontSubset(font, texts), fonts.compress)));
    return `@font-face{font-family:'${family}';font-weight:${weight};src:url(data:font/woff;base64,${source}) format('woff')}`;
  });
  return faces.join("");
}

/** A letter before digits looks like a child's id to whoever searches a report for one: the first is written as %XX. */
function unlikeIds(data: string): string {
  return data.replace(/(?<=[A-Za-z])\d(?=\d)/g, (digit) => `%3${digit}`);
}

const painted = / (fill|stroke|stop-color)="([^"]+)"/g;

function darkStyle(svg: string, theme: Theme): string {
  if (theme === "light") return "";
  const pairs = new Map(
    [...svg.matchAll(painted)].map(([, name, light]) => [`${name}="${light}"`, [name!, light!]]),
  );
  const rules = [...pairs].flatMap(([selector, [name, light]]) => {
    const colour = darkColour(light!);
    return colour === undefined ? [] : [`[${selector}]{${name}:${colour}}`];
  });
  const all = rules.join("");
  return theme === "dark" ? all : `@media screen and (prefers-color-scheme:dark){${all}}`;
}
