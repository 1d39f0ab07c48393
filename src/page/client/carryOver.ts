import type { Json } from "./json.js";

/** A mapping and a protocol. */
export interface Draft {
  readonly columns: Json;
  readonly protocol: Json;
}

/** What a person made of one draft, upon a draft that was made anew; and in words what could not be kept. */
export function carriedOver(
  drafted: Draft,
  mine: Draft,
  fresh: Draft,
): Draft & { readonly lost: readonly string[] } {
  const lost: string[] = [];
  return {
    // files have the names of the new draft; all else is the person's own
    protocol: {
      ...merged(drafted.protocol, mine.protocol, fresh.protocol, (_, own) => own),
      sources: fresh.protocol.sources,
    },
    // what a column means is kept only where the mapping still has a place for it
    columns: merged(drafted.columns, mine.columns, fresh.columns, (path, own, now) => {
      lost.push(lostWords(path, own));
      return now;
    }),
    lost: [...new Set(lost)],
  };
}

type AtOdds = (path: readonly string[], mine: Json, fresh: Json) => Json;

/** Three ways: what the person changed stays, what nobody changed is new; what was changed twice is at odds. */
function merged(
  base: Json,
  mine: Json,
  fresh: Json,
  atOdds: AtOdds,
  path: readonly string[] = [],
): Json {
  if (same(base, mine) || same(mine, fresh)) return fresh;
  if (same(base, fresh)) return mine;
  if (isObject(mine) && isObject(fresh)) {
    const before = isObject(base) ? base : {};
    const keys = [...new Set([...Object.keys(fresh), ...Object.keys(mine)])];
    const parts = keys.map((key) => [
      key,
      merged(before[key], mine[key], fresh[key], atOdds, [...path, key]),
    ]);
    return Object.fromEntries(parts.filter(([, value]) => value !== undefined));
  }
  if ([base, mine, fresh].every((one) => Array.isArray(one) && one.length === fresh?.length)) {
    return fresh.map((one: Json, at: number) =>
      merged(base[at], mine[at], one, atOdds, [...path, String(at)]),
    );
  }
  return atOdds(path, mine, fresh);
}

const same = (one: Json, other: Json) => JSON.stringify(one) === JSON.stringify(other);
const isObject = (one: Json): boolean =>
  typeof one === "object" && one !== null && !Array.isArray(one);

const names: { readonly [key: string]: string } = {
  verificationReason: "why children were examined",
  marks: "words in place of a sphere",
  missing: "words for nothing known",
  accepted: "what was said to be right all the same",
  programmeDecision: "what the programme decided",
  readings: "words in the cells of the readings",
  findings: "words in the cells of the findings",
};

function lostWords(path: readonly string[], mine: Json): string {
  const key = path.findLast((part) => names[part] !== undefined) ?? path.at(-1) ?? "";
  const words = isObject(mine?.codes) ? Object.keys(mine.codes) : [];
  const said = words.length === 0 ? "" : ` (${words.map((word) => `"${word}"`).join(", ")})`;
  return `${names[key] ?? `"${key}" of columns.json`}${said}`;
}
