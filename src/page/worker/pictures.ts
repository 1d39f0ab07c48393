import { drawWith } from "../../platform/browser/index.js";

interface Picture {
  readonly picture: number;
  readonly svg: string;
  readonly width: number;
}

/**
 * A worker has no canvas that draws an SVG: its page is asked.
 *
 * @returns what takes the page's answer
 */
export function askForPictures(
  ask: (wanted: { readonly kind: "draw" } & Picture) => void,
): (answer: { readonly picture: number; readonly png: Uint8Array | null }) => void {
  const drawing = new Map<number, { resolve(png: Uint8Array): void; reject(error: Error): void }>();
  let pictures = 0;
  drawWith((svg, width) => {
    pictures++;
    const picture = pictures;
    ask({ kind: "draw", picture, svg, width });
    return new Promise((resolve, reject) => drawing.set(picture, { resolve, reject }));
  });
  return ({ picture, png }) => {
    const waiting = drawing.get(picture);
    drawing.delete(picture);
    if (png !== null) waiting?.resolve(png);
    else waiting?.reject(new Error("a figure could not be drawn as a picture by this browser"));
  };
}
