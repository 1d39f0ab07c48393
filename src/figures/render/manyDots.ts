// a filled circle about its place, as the renderer writes it
const circle =
  /<path transform="translate\(([-\d.]+),([-\d.]+)\)" d="M([\d.]+),0A\3,\3,0,1,1,-\3,0A\3,\3,0,1,1,\3,0" fill="(#[0-9a-f]{6})" stroke-width="[\d.]+"(?: opacity="([\d.]+)")?\/>/;

const run = new RegExp(`(?:${circle.source.replace(/\\3/g, "[\\d.]+")}){50,}`, "g");
const each = new RegExp(circle.source, "g");

/**
 * Writes long runs of like dots in a fifth of the room: a dot is a line of no length with round ends,
 * and what they share stands once, on their group. They look the same, each on its own over the others.
 */
export function withShortDots(svg: string): string {
  return svg.replace(run, (dots) => {
    const groups: { shared: string; places: string[] }[] = [];
    for (const [, x, y, radius, fill, opacity] of dots.matchAll(each)) {
      const shared = `stroke="${fill}" stroke-width="${2 * Number(radius)}"${opacity === undefined ? "" : ` stroke-opacity="${opacity}"`}`;
      const last = groups.at(-1);
      const place = `<path d="M${x} ${y}h.01"/>`;
      if (last?.shared === shared) last.places.push(place);
      else groups.push({ shared, places: [place] });
    }
    return groups
      .map(({ shared, places }) => `<g ${shared} stroke-linecap="round">${places.join("")}</g>`)
      .join("");
  });
}
