import { parse, View } from "vega";
import { compile } from "vega-lite";
import type { FigureSpec } from "../../src/results/index.js";

/** A plane of a drawn figure, in points. */
interface Plane {
  readonly width: number;
  readonly height: number;
  readonly marks: readonly { x: number; y: number; radius: number; clipped: boolean }[];
  /** Where its axes begin and end; undefined where there are none. */
  readonly x: unknown;
  readonly y: unknown;
}

interface Item {
  readonly marktype?: string;
  readonly role?: string;
  readonly clip?: unknown;
  readonly items?: readonly Item[];
  readonly width?: number;
  readonly height?: number;
  readonly x?: number;
  readonly y?: number;
  readonly size?: number;
  readonly name?: string;
}

/** The planes of a figure with the marks that stand for data; keys and axes are left out. */
export async function planesOf({ spec }: FigureSpec): Promise<readonly Plane[]> {
  type Spec = Parameters<typeof compile>[0];
  const compiled = compile(structuredClone(spec) as unknown as Spec).spec;
  const view = await new View(parse(compiled), { renderer: "none" }).runAsync();
  const { root } = view.scenegraph() as unknown as { root: Item };
  const frame = root.items![0]!;
  const inner = (frame.items ?? []).filter(
    ({ marktype, role, name }) =>
      marktype === "group" && role === "scope" && /^concat_\d+_group$/.test(name ?? ""),
  );
  const groups = inner.length === 0 ? [frame] : inner.flatMap(({ items }) => items ?? []);
  const scale = (axis: "x" | "y", at: number): unknown => {
    const names = inner.length === 0 ? [axis] : [`concat_${at}_${axis}`, axis];
    for (const name of names) {
      try {
        return (view.scale(name) as unknown as { domain: () => unknown }).domain();
      } catch {}
    }
    return undefined;
  };
  const planes = groups.map((group, at) => ({
    width: group.width ?? view.width(),
    height: group.height ?? view.height(),
    marks: symbolsOf(group),
    x: scale("x", at),
    y: scale("y", at),
  }));
  view.finalize();
  return planes;
}

function symbolsOf(group: Item): Plane["marks"] {
  return (group.items ?? []).flatMap((mark) => {
    if (mark.role?.startsWith("axis") || mark.role?.startsWith("legend")) return [];
    if (mark.marktype === "group") return (mark.items ?? []).flatMap(symbolsOf);
    if (mark.marktype !== "symbol") return [];
    return (mark.items ?? []).map(({ x = 0, y = 0, size = 0 }) => ({
      x,
      y,
      radius: Math.sqrt(size) / 2,
      clipped: mark.clip !== undefined && mark.clip !== false && mark.clip !== null,
    }));
  });
}
