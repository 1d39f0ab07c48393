import type { Json } from "./json.js";

/** How the programme decided whom to refer: "rule" for a rule in the text of the protocol, "" for no answer. */
export type Decider = "" | "recorded" | "studied" | "limit" | "rule" | "unknown";

/** The column that records the programme's decision; null where the mapping reads none. */
export function decisionColumn(columns: Json): string | null {
  for (const block of columns?.readings ?? []) {
    for (const part of [block.columns, block.right, block.left]) {
      if (part?.programmeDecision !== undefined) return part.programmeDecision;
    }
  }
  return null;
}

/** What a protocol says of it. */
export function deciderOf(protocol: Json, columns: Json): Decider {
  const own = protocol.programme?.referWhen;
  if (own === undefined) return decisionColumn(columns) === null ? "" : "recorded";
  if (same(own, protocol.conditions[0].referWhen)) return "studied";
  return "quantity" in own ? "limit" : "rule";
}

/** Writes it down; a limit that is wanted anew begins empty. */
export function setDecider(protocol: Json, decider: Decider): void {
  const { referWhen, ...others } = protocol.programme ?? {};
  const wanted = wantedRule(decider, referWhen, protocol.conditions[0].referWhen);
  const programme = wanted === undefined ? others : { ...others, referWhen: wanted };
  if (Object.keys(programme).length === 0) delete protocol.programme;
  else protocol.programme = programme;
}

function wantedRule(decider: Decider, own: Json, studied: Json): Json {
  if (decider === "studied") return withoutNote(studied);
  if (decider === "rule") return own;
  if (decider !== "limit") return undefined;
  return own !== undefined && "quantity" in own ? own : { quantity: "M" };
}

/** The programme's rule follows the referral under study; where all were examined it has no place. */
export function keepDecider(protocol: Json, decider: Decider): void {
  if (protocol.verification === "complete") setDecider(protocol, "unknown");
  else if (decider === "studied" || (decider === "limit" && !protocol.programme?.referWhen)) {
    setDecider(protocol, decider);
  }
}

function withoutNote({ note: _, ...side }: Json): Json {
  return structuredClone(side);
}

const same = (one: Json, other: Json) =>
  JSON.stringify(withoutNote(one)) === JSON.stringify(withoutNote(other));
