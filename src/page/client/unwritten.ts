import type { PublishedChoice } from "../messages.js";
import type { Json } from "./json.js";
import type { Decider } from "./programme.js";

/** Something that nobody has said yet; without what is `needed` a study cannot run. */
export interface Open {
  readonly words: string;
  readonly isNeeded: boolean;
}

/** A drafted protocol without limits: a number that nobody chose must not stand like an answer. */
export function withoutLimits(protocol: Json): Json {
  const own: Json = structuredClone(protocol);
  for (const { target, referWhen } of own.conditions) {
    for (const side of [target, referWhen]) {
      delete side.limit;
      delete side.relation;
    }
  }
  return own;
}

/** All that is still to be written in a protocol. */
export function stillOpen(
  protocol: Json,
  published: readonly PublishedChoice[],
  decider: Decider,
): readonly Open[] {
  const conditions: Json[] = protocol.conditions;
  const of = (at: number) => (conditions.length === 1 ? "" : ` of condition ${at + 1}`);
  const texts: [string, unknown][] = [
    ["the title", protocol.title],
    ["the question", protocol.question],
    ["the instrument", protocol.indexTest.description],
    ["the exam", protocol.referenceStandard.description],
    ...conditions.map(({ title }, at): [string, unknown] => [
      `the condition in words${of(at)}`,
      title,
    ]),
  ];
  const open: Open[] = texts
    .filter(([, text]) => /^(to be written|\s*$)/i.test(String(text ?? "")))
    .map(([words, text]) => ({ words, isNeeded: String(text ?? "").trim() === "" }));
  conditions.forEach(({ target, referWhen }, at) => {
    open.push(...openOf(target, `at the exam${of(at)}`, published));
    open.push(...openOf(referWhen, `of the referral${of(at)}`, published));
  });
  const own = protocol.programme?.referWhen;
  if (own !== undefined) open.push(...openOf(own, "of the programme", published));
  if (protocol.verification !== "complete" && decider === "") {
    open.push({ words: "how the programme decided whom to refer", isNeeded: false });
  }
  return open;
}

function openOf(side: Json, where: string, published: readonly PublishedChoice[]): Open[] {
  if ("quantity" in side) {
    if (side.limit !== undefined && side.relation !== undefined) return [];
    const words =
      side.limit === undefined ? "the limit" : "on which side of the limit the number lies";
    return [{ words: `${words} ${where}`, isNeeded: true }];
  }
  return (published.find(({ id }) => id === side.published)?.open ?? [])
    .filter(({ name }) => side.choices?.[name] === undefined)
    .map(({ question }) => ({ words: `"${question}" ${where}`, isNeeded: true }));
}

export function openWords(open: readonly Open[]): string {
  return `Still to be written: ${open.map(({ words }) => words).join(", ")}.`;
}
