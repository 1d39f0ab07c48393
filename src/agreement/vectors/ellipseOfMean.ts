import { chiSquareQuantile, fQuantile } from "../../inference/index.js";
import type { Ellipse } from "./ellipse.js";

/** The confidence ellipse of the mean that belongs to a plug-in ellipse of so many independent eyes. */
export function ellipseOfMean(eyes: Ellipse, n: number, level: number): Ellipse {
  const hotelling = ((2 * (n - 1)) / (n * (n - 2))) * fQuantile(level, 2, n - 2);
  const times = Math.sqrt(hotelling / chiSquareQuantile(eyes.level, 2));
  const [major, minor] = eyes.semiAxes;
  return {
    ...eyes,
    region: "confidence-of-mean",
    level,
    method: "hotelling",
    semiAxes: [times * major, times * minor],
  };
}
