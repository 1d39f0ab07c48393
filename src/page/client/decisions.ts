import type { FileAudit } from "../../cohort/index.js";
import { button, labelled, make, menu, textInput } from "./elements.js";
import type { Json } from "./json.js";

type Part = FileAudit["parts"][number];
type Change = (change: (columns: Json) => void) => void;

const meanings = [
  ["", "please say"],
  ["unreadable", "the eye could not be measured"],
  ["over-range", "above what the instrument reads"],
  ["under-range", "below what the instrument reads"],
  ["not-attempted", "no measurement was tried"],
  ["missing", "nothing is known: an empty cell"],
] as const;
const mostWords = 8;

/** What a person can say of cells that are no numbers: each word once. */
export function wordDecisions(part: Part, columns: Json, change: Change): HTMLElement[] {
  const blocks: Json[] = columns[part.kind] ?? [];
  const spheres = new Set(
    blocks.flatMap(({ columns: own, right, left }: Json) =>
      [own, right, left].map((side) => side?.sphere),
    ),
  );
  const words = new Map<string, string | null>();
  for (const { rule, value, column } of part.problems) {
    if (rule === "not-a-number" && value.trim() !== "" && !words.has(value)) {
      words.set(value, column);
    }
  }
  return [...words].slice(0, mostWords).map(([word, column]) =>
    labelled(
      `What "${word}" means in ${column ?? "the file"}`,
      menu(
        // words that stand for a status stand in place of a sphere
        meanings.filter(([value]) => spheres.has(column) || value === "" || value === "missing"),
        "",
        (value) => {
          if (value === "") return;
          change((mapping) => {
            if (value === "missing") addMissing(mapping, word);
            else
              for (const block of mapping[part.kind])
                block.marks = { ...block.marks, [word]: value };
          });
        },
      ),
    ),
  );
}

/** A rule that so many eyes break that the mapping seems wrong, and the reason why it is not. */
export function acceptance(rule: string, change: Change): HTMLElement {
  const reason = textInput("", () => {});
  return make(
    "div",
    {},
    labelled(`If it is right all the same, the reason (${rule})`, reason),
    make(
      "p",
      {},
      button("It is right, for this reason", () => {
        if (reason.value.trim() === "") reason.focus();
        else {
          change((mapping) => {
            mapping.accepted = { ...mapping.accepted, [rule]: reason.value.trim() };
          });
        }
      }),
    ),
  );
}

function addMissing(mapping: Json, word: string): void {
  const { missing } = mapping;
  if (missing === undefined) mapping.missing = [word];
  else if (Array.isArray(missing)) missing.push(word);
  else missing.everywhere = [...(missing.everywhere ?? []), word];
}
