import { type IdentifierKind, kindOfCell } from "../../privacy/index.js";
import type { ColumnFacts } from "./columnFacts.js";

/** The kind of identifier that most cells look like, or null. */
export function kindsOfCells(facts: ColumnFacts): IdentifierKind | null {
  const counts = new Map<IdentifierKind, number>();
  let looked = 0;
  for (const [text, times] of facts.cells) {
    if (looked > 5000) break;
    looked += times;
    const kind = kindOfCell(text);
    if (kind !== null) counts.set(kind, (counts.get(kind) ?? 0) + times);
  }
  for (const [kind, count] of counts) if (count > looked * 0.4) return kind;
  return null;
}
