import { parse, View } from "vega";
import { compile } from "vega-lite";
import { loadTextWidth } from "../../src/figures/index.js";
import { chartSvg } from "../../src/figures/render/chartSvg.js";
import type { FigureSpec } from "../../src/results/index.js";

/** A box in points of the drawing. */
interface Box {
  readonly x1: number;
  readonly y1: number;
  readonly x2: number;
  readonly y2: number;
}
export interface NamedBox extends Box {
  readonly name: string;
}

interface Item {
  readonly bounds?: Box;
  readonly x?: number;
  readonly y?: number;
  readonly x2?: number;
  readonly y2?: number;
  readonly text?: string | readonly string[];
  readonly opacity?: number;
  readonly fill?: string | null;
  readonly stroke?: string | null;
  readonly items?: readonly Mark[];
}
interface Mark {
  readonly marktype: string;
  readonly role?: string;
  readonly items: readonly Item[];
}

/** Labels that stand on a plane, and the marks of data on it; axes, keys and titles are neither. */
export async function boxesOf(
  figure: FigureSpec,
): Promise<{ readonly labels: readonly NamedBox[]; readonly marks: readonly NamedBox[] }> {
  // the widths of the bundled letters from here on
  await chartSvg(figure);
  await loadTextWidth();
  type Spec = Parameters<typeof compile>[0];
  const compiled = compile(structuredClone(figure.spec) as unknown as Spec).spec;
  const view = await new View(parse(compiled), { renderer: "none" }).runAsync();
  const { root } = view.scenegraph() as unknown as { readonly root: Mark };
  const labels: NamedBox[] = [];
  const marks: NamedBox[] = [];
  const walk = ({ marktype, role = "", items }: Mark, dx: number, dy: number): void => {
    if (/^(axis|legend|title)/.test(role)) return;
    for (const item of items) {
      const { x = 0, y = 0, bounds, text } = item;
      if (marktype === "group") {
        for (const inner of item.items ?? []) walk(inner, dx + x, dy + y);
        continue;
      }
      if (bounds === undefined || item.opacity === 0) continue;
      if (marktype === "line" || marktype === "rule") continue;
      const box = {
        x1: bounds.x1 + dx,
        y1: bounds.y1 + dy,
        x2: bounds.x2 + dx,
        y2: bounds.y2 + dy,
      };
      // a white rim has the place of its text
      if (marktype === "text") labels.push({ ...box, name: [text].flat().join(" ") });
      else if (["symbol", "rect"].includes(marktype)) marks.push({ ...box, name: marktype });
    }
    if (marktype === "line") {
      for (const [at, to] of items.entries()) {
        if (at > 0) marks.push(...piecesOf(items[at - 1]!, to, dx, dy));
      }
    }
    if (marktype === "rule") {
      for (const { x = 0, y = 0, x2 = x, y2 = y } of items) {
        marks.push(...piecesOf({ x, y }, { x: x2, y: y2 }, dx, dy));
      }
    }
  };
  walk(root, 0, 0);
  view.finalize();
  return { labels, marks };
}

/** A line in short pieces, whose boxes hold little beside it. */
function piecesOf(from: Item, to: Item, dx: number, dy: number): NamedBox[] {
  const [x, y, u, v] = [from.x ?? 0, from.y ?? 0, to.x ?? 0, to.y ?? 0];
  const n = Math.max(1, Math.ceil(Math.hypot(u - x, v - y) / 2));
  return Array.from({ length: n }, (_, piece) => {
    const place = (share: number) => [x + (u - x) * share + dx, y + (v - y) * share + dy] as const;
    const [[x1, y1], [x2, y2]] = [place(piece / n), place((piece + 1) / n)];
    return {
      x1: Math.min(x1, x2) - 0.4,
      x2: Math.max(x1, x2) + 0.4,
      y1: Math.min(y1, y2) - 0.4,
      y2: Math.max(y1, y2) + 0.4,
      name: "line",
    };
  });
}

/** How far two boxes lie within each other, in points; 0 where they do not. */
export function overlap(one: Box, other: Box): number {
  const across = Math.min(one.x2, other.x2) - Math.max(one.x1, other.x1);
  const up = Math.min(one.y2, other.y2) - Math.max(one.y1, other.y1);
  return Math.max(0, Math.min(across, up));
}

/** A text that stands wholly in a box, as in a flow or a table of counts, is the box's own. */
export function isWithin(inner: Box, outer: Box): boolean {
  return (
    inner.x1 >= outer.x1 && inner.x2 <= outer.x2 && inner.y1 >= outer.y1 && inner.y2 <= outer.y2
  );
}
