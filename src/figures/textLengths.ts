import type { TextWidth } from "./fonts.js";

const text = /<text([^>]*)>([^<]+)<\/text>/g;

/**
 * States the length of every line of text, as the bundled font prints it, so that a viewer that has
 * to take other letters keeps them within the figure.
 */
export function withTextLengths(svg: string, textWidth: TextWidth): string {
  return svg.replace(text, (whole, attributes: string, content: string) => {
    const size = /font-size="([\d.]+)px"/.exec(attributes)?.[1];
    const line = unescaped(content).trim();
    if (size === undefined || line === "") return whole;
    const weight = /font-weight="([^"]+)"/.exec(attributes)?.[1] ?? null;
    const width = textWidth(line, Number(size), weight);
    return `<text${attributes} textLength="${Number(width.toFixed(2))}" lengthAdjust="spacingAndGlyphs">${content}</text>`;
  });
}

const signs: Readonly<Record<string, string>> = {
  amp: "&",
  lt: "<",
  gt: ">",
  quot: '"',
  apos: "'",
};

const unescaped = (content: string): string =>
  content.replace(/&(amp|lt|gt|quot|apos);/g, (_, name: string) => signs[name]!);
