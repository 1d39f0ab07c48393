import { render, renderSync } from "../figures/index.js";
import { base64, drawnLater, type MimeBundle } from "../platform/index.js";
import type { FigureSpec } from "../results/index.js";
import { escapeHtml, plainText } from "../text/index.js";

interface FigureBundle extends MimeBundle {
  readonly "text/plain": string;
}

/** A figure in the forms that a notebook page shows, saved or live, trusted or not; without pixels in a page. */
export function figureBundle(figure: FigureSpec): FigureBundle {
  const words = { "text/plain": plainText(figure.alt) };
  if (drawnLater !== null) {
    const whole = async () => ({
      "text/html": pictureHtml(figure, await render(figure)),
      ...words,
    });
    return drawnLater(words, whole) as FigureBundle;
  }
  const { svg, png } = renderSync(figure);
  return { "text/html": pictureHtml(figure, svg), "image/png": base64(png), ...words };
}

function pictureHtml(figure: FigureSpec, svg: string): string {
  const source = `data:image/svg+xml;base64,${base64(new TextEncoder().encode(svg))}`;
  // a print's width is small on a page; the drawing has no pixels to lose
  const width = Math.round(figure.widthMm * 1.6 * (96 / 25.4));
  const picture = `<img alt="${escapeHtml(figure.alt)}" width="${width}" src="${source}">`;
  return `${picture}\n<p>${escapeHtml(figure.caption)}</p>`;
}
