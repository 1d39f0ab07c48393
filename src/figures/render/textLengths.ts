import type { TextWidth } from "./fonts.js";

const own = '((?:[^>"]|"[^"]*")*)';
// a text of one line, or of several; one without letters closes itself
const text = new RegExp(`<text${own}(?<!/)>([^<]+|(?:<tspan.*?</tspan>)+)</text>`, "g");
const lines = new RegExp(`<tspan${own}>([^<]+)</tspan>`, "g");

/**
 * States the length of every line of text, as the bundled font prints it, so that a viewer that has
 * to take other letters keeps them within the figure.
 */
export function withTextLengths(svg: string, textWidth: TextWidth): string {
  return svg.replace(text, (whole, attributes: string, content: string) => {
    const size = /font-size="([\d.]+)px"/.exec(attributes)?.[1];
    if (size === undefined) return whole;
    const weight = /font-weight="([^"]+)"/.exec(attributes)?.[1] ?? null;
    const length = (markup: string) => {
      const width = textWidth(unescaped(markup).trim(), Number(size), weight);
      return width > 0
        ? ` textLength="${Number(width.toFixed(2))}" lengthAdjust="spacingAndGlyphs"`
        : "";
    };
    if (!content.startsWith("<")) return `<text${attributes}${length(content)}>${content}</text>`;
    return whole.replace(
      lines,
      (_, place: string, line: string) => `<tspan${place}${length(line)}>${line}</tspan>`,
    );
  });
}

/** Every line of text of a drawing with its weight. */
export function textLines(
  svg: string,
): readonly { readonly text: string; readonly weight: string | null }[] {
  return [...svg.matchAll(text)].flatMap(([, attributes, content]) => {
    const weight = /font-weight="([^"]+)"/.exec(attributes!)?.[1] ?? null;
    const parts = content!.startsWith("<")
      ? [...content!.matchAll(lines)].map(([, , line]) => line!)
      : [content!];
    return parts.map((one) => ({ text: unescaped(one).trim(), weight }));
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
