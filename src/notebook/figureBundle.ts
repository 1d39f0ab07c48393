import { renderSync } from "../figures/index.js";
import type { FigureSpec } from "../results/index.js";
import { escapeHtml, plainText } from "../text/index.js";

/** A figure in the forms that a notebook page shows, saved or live, trusted or not. */
export function figureBundle(figure: FigureSpec) {
  const { svg, png } = renderSync(figure);
  const source = `data:image/svg+xml;base64,${Buffer.from(svg, "utf8").toString("base64")}`;
  // a print's width is small on a page; the drawing has no pixels to lose
  const width = Math.round(figure.widthMm * 1.6 * (96 / 25.4));
  const picture = `<img alt="${escapeHtml(figure.alt)}" width="${width}" src="${source}">`;
  return {
    "text/html": `${picture}\n<p>${escapeHtml(figure.caption)}</p>`,
    "image/png": Buffer.from(png).toString("base64"),
    "text/plain": plainText(figure.alt),
  };
}
