import type { Part } from "../figureSpec.js";
import { colours, page } from "../theme.js";

/** What a mark beside a front of rules stands for; rules from elsewhere go by their own names. */
export const kinds = {
  front: "front",
  plateau: "plateau, not told apart from it",
  chosen: "chosen rule",
} as const;

export type KindOfRule = string;

const looks: { readonly [kind: string]: Look } = {
  [kinds.chosen]: { shape: "circle", stroke: colours.second, fill: colours.second },
  [kinds.plateau]: { shape: "diamond", stroke: colours.second, fill: page },
};

interface Look {
  readonly shape: string;
  readonly stroke: string;
  readonly fill: string;
}

const elsewhere = ["cross", "triangle-up", "square", "triangle-down", "triangle-left"];

/** Shape, outline and filling by kind, with one key that names the kinds that are drawn. */
export function kindEncoding(drawn: readonly KindOfRule[]): Part {
  const present = new Set(drawn);
  const own = Object.keys(looks).filter((kind) => present.has(kind));
  const others = [...present].filter((kind) => looks[kind] === undefined);
  const domain = [...own, ...others];
  const look = (kind: string): Look =>
    looks[kind] ?? {
      shape: elsewhere[others.indexOf(kind) % elsewhere.length]!,
      stroke: colours.ink,
      fill: page,
    };
  const channel = (member: keyof Look): Part => ({
    field: "kind",
    type: "nominal",
    scale: { domain, range: domain.map((kind) => look(kind)[member]) },
    legend: { title: null, orient: "top", offset: 4, columns: 2, symbolSize: 44 },
  });
  return {
    shape: channel("shape"),
    stroke: channel("stroke"),
    fill: channel("fill"),
  };
}
