import type { FigureSpec } from "../../results/index.js";
import type { Part } from "../figureSpec.js";

/**
 * The specification of a figure that answers when a reader points at it: marks, cells and curves say the
 * numbers that they stand for. It holds no number that the figure itself does not draw: what an audience may
 * not see is not in the figure's data.
 */
export function liveSpec({ spec }: FigureSpec): FigureSpec["spec"] {
  const { usermeta, ...drawn } = spec as Part & { readonly usermeta?: { readonly live?: Linked } };
  const live = usermeta?.live;
  const linked = live === undefined ? drawn : { ...withColour(drawn, live), params: live.params };
  return withTooltips(linked, {});
}

/** What a figure of several views says of the selection that goes across them. */
interface Linked {
  readonly params: readonly Part[];
  readonly color: Part;
}

/** The colour of what is chosen, in the views that are named. */
function withColour(part: Part, live: Linked): Part {
  for (const parts of ["layer", "hconcat"] as const) {
    const inner = part[parts] as readonly Part[] | undefined;
    if (inner !== undefined) return { ...part, [parts]: inner.map((one) => withColour(one, live)) };
  }
  if (part.name === undefined) return part;
  return { ...part, encoding: { ...(part.encoding as object), color: live.color } };
}

/** Titles of axes, where a layer shares those of others. */
type Titles = { readonly [channel: string]: string };

function withTooltips(part: Part, titles: Titles, rows: readonly Part[] = []): Part {
  const inherited = rowsOf(part) ?? rows;
  const known = { ...titles, ...titlesOf(part) };
  for (const parts of ["layer", "hconcat", "vconcat", "concat"] as const) {
    const inner = part[parts] as readonly Part[] | undefined;
    if (inner === undefined) continue;
    const shared = parts === "layer" ? { ...titlesOfAll(inner), ...known } : known;
    return { ...part, [parts]: inner.map((one) => withTooltips(one, shared, inherited)) };
  }
  const fields = tooltipFields(part, known, inherited);
  if (fields.length === 0) return part;
  const mark = markOf(part);
  return {
    ...part,
    // a line has one mark for all its places: points that are not seen carry the words
    ...(mark.type === "line" ? { mark: { ...mark, point: { opacity: 0, size: 40 } } } : {}),
    encoding: { ...(part.encoding as object), tooltip: fields },
  };
}

const rowsOf = (part: Part): readonly Part[] | undefined =>
  (part.data as { readonly values?: readonly Part[] } | undefined)?.values;

const pointed = new Set(["point", "rect", "bar", "line", "tick", "circle", "square"]);

/** What a mark says: the fields of its places, by the titles of its axes. */
function tooltipFields(part: Part, titles: Titles, inherited: readonly Part[]): Part[] {
  const encoding = (part.encoding ?? {}) as { readonly [channel: string]: Channel | undefined };
  const rows = rowsOf(part) ?? inherited;
  if (rows.length < 2 || !pointed.has(String(markOf(part).type))) return [];
  if (encoding.tooltip !== undefined) return [];
  return (["x", "x2", "y", "y2", "color", "shape"] as const).flatMap((channel): Part[] => {
    const { field, type } = encoding[channel] ?? {};
    if (field === undefined) return [];
    const first = channel.slice(0, 1) as "x" | "y";
    const title = channel.endsWith("2")
      ? `${titles[first] ?? first}, to`
      : (titles[channel] ?? field);
    const isNumber = rows.some((row) => typeof row[field] === "number");
    const whole = rows.every((row) => !isNumber || Number.isInteger(row[field] ?? 0));
    return [
      {
        field,
        title,
        ...(isNumber
          ? { type: "quantitative", format: whole ? "d" : ".3~f" }
          : { type: type === "ordinal" ? "ordinal" : "nominal" }),
      },
    ];
  });
}

interface Channel {
  readonly field?: string;
  readonly type?: string;
  readonly title?: string | null;
  readonly axis?: { readonly title?: string | readonly string[] | null } | null;
  readonly legend?: { readonly title?: string | readonly string[] | null } | null;
}

function titlesOf(part: Part): Titles {
  const encoding = (part.encoding ?? {}) as { readonly [channel: string]: Channel | undefined };
  return Object.fromEntries(
    ["x", "y", "color", "shape"].flatMap((channel) => {
      const one = encoding[channel];
      const title = one?.axis?.title ?? one?.legend?.title ?? one?.title;
      const words = Array.isArray(title) ? title.join(" ") : title;
      return typeof words === "string" && words !== "" ? [[channel, words]] : [];
    }),
  );
}

function titlesOfAll(parts: readonly Part[]): Titles {
  return Object.assign(
    {},
    ...parts.map((part) => ({
      ...titlesOfAll((part.layer as readonly Part[] | undefined) ?? []),
      ...titlesOf(part),
    })),
  );
}

function markOf(part: Part): Part & { readonly type?: unknown } {
  return typeof part.mark === "string" ? { type: part.mark } : ((part.mark ?? {}) as Part);
}
