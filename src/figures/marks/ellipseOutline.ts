import type { Ellipse, RegionName } from "../../agreement/index.js";

export const regionWords: { readonly [name in RegionName]: string } = {
  "confidence-of-mean": "confidence ellipse of the centroid",
  "plug-in": "plug-in ellipse",
  prediction: "prediction ellipse",
  tolerance: "tolerance ellipse",
};

type Shape = Pick<Ellipse, "centre" | "semiAxes" | "angle">;

const corners = 72;

/** A closed outline as points in drawing order. */
export function ellipseOutline({ centre, semiAxes: [long, short], angle }: Shape) {
  const turn = (angle * Math.PI) / 180;
  return Array.from({ length: corners + 1 }, (_, order) => {
    const t = (2 * Math.PI * order) / corners;
    const [along, across] = [long * Math.cos(t), short * Math.sin(t)];
    return {
      x: tidy(centre.x + along * Math.cos(turn) - across * Math.sin(turn)),
      y: tidy(centre.y + along * Math.sin(turn) + across * Math.cos(turn)),
      order,
    };
  });
}

/** The farthest that an ellipse can reach from the origin. */
export function reach({ centre, semiAxes }: Shape): number {
  return Math.hypot(centre.x, centre.y) + semiAxes[0];
}

function tidy(value: number): number {
  return Number(value.toFixed(6));
}
