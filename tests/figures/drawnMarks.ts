/** How a mark of a drawing is painted. */
interface Paint {
  readonly colour: string;
  readonly opacity: number;
}

export interface Mark {
  readonly fill: Paint | null;
  readonly stroke: Paint | null;
}

const parts = (colour: string): readonly number[] =>
  colour.startsWith("#")
    ? [1, 3, 5].map((at) => Number.parseInt(colour.slice(at, at + 2), 16))
    : colour.match(/\d+/g)!.map(Number);

/** A colour that lets the paper shine through. */
export function mixed(colour: string, paper: string, opacity: number): string {
  const below = parts(paper);
  return `rgb(${parts(colour).map((part, at) => Math.round(part * opacity + below[at]! * (1 - opacity)))})`;
}

/** Contrast of two colours (WCAG 2.2, "contrast ratio"). */
export function contrast(one: string, other: string): number {
  const [low, high] = [one, other]
    .map((colour) => {
      const [r, g, b] = parts(colour).map((part) => {
        const share = part / 255;
        return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
      });
      return 0.2126 * r! + 0.7152 * g! + 0.0722 * b! + 0.05;
    })
    .sort((a, b) => a - b);
  return high! / low!;
}

/** Every painted shape of an SVG, with what it inherits of a group of dots; texts are no marks. */
export function marksOf(svg: string): readonly Mark[] {
  return [...svg.matchAll(/<(?:path|line|rect|g)( [^>]*?)\/?>/g)].flatMap(([, attributes]) => {
    const value = (name: string) => new RegExp(` ${name}="([^"]+)"`).exec(attributes!)?.[1];
    const paint = (name: "fill" | "stroke"): Paint | null => {
      const colour = value(name);
      if (colour === undefined || !/^(#|rgb)/.test(colour)) return null;
      const opacity = Number(value("opacity") ?? 1) * Number(value(`${name}-opacity`) ?? 1);
      return opacity === 0 ? null : { colour, opacity };
    };
    const [fill, stroke] = [paint("fill"), paint("stroke")];
    return fill === null && stroke === null ? [] : [{ fill, stroke }];
  });
}
