import type { FileAudit } from "../../cohort/index.js";
import {
  button,
  group,
  labelled,
  make,
  menu,
  openSigns,
  paragraph,
  textInput,
} from "./elements.js";
import type { Json } from "./json.js";
import { codesOf, keyOfColumn, setCode, wordColumns } from "./wordMeanings.js";

type Part = FileAudit["parts"][number];
type Change = (change: (columns: Json) => void) => void;

const meanings = [
  ["", openSigns],
  ["unreadable", "the eye could not be measured"],
  ["over-range", "above what the instrument reads"],
  ["under-range", "below what the instrument reads"],
  ["not-attempted", "no measurement was tried"],
  ["missing", "nothing is known: an empty cell"],
] as const;
const mostWords = 8;
const mostCodes = 20;

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

/** What words of a column of words mean: those that nobody knows, and those that were read unasked. */
export function codeDecisions(part: Part, columns: Json, change: Change): HTMLElement[] {
  const blocks: Json[] = columns[part.kind] ?? [];
  const unknown = new Map<string, Set<string>>();
  for (const { rule, value, column } of part.problems) {
    const key = rule === "word-unknown" ? keyOfColumn(blocks, column) : null;
    if (key === null) continue;
    unknown.set(key, (unknown.get(key) ?? new Set()).add(value));
  }
  // on why a child was examined the correction depends: what was read unasked is shown as well
  const keys = new Set([...unknown.keys(), "verificationReason"]);
  return [...keys].flatMap((key) => {
    const { about, meanings: choices } = wordColumns[key];
    const taken = key === "verificationReason" ? Object.entries(codesOf(blocks, key)) : [];
    const open = [...(unknown.get(key) ?? [])].filter(
      (word) => !taken.some(([one]) => one === word),
    );
    const menus = [...open.map((word) => [word, ""] as const), ...taken].map(([word, value]) =>
      labelled(
        `What "${word}" means (${about})`,
        menu(value === "" ? [["", openSigns], ...choices] : choices, value, (given) =>
          change((mapping) => setCode(mapping[part.kind], key, word, given)),
        ),
      ),
    );
    if (menus.length === 0) return [];
    const shown = menus.slice(0, mostCodes);
    if (menus.length > mostCodes) {
      shown.push(
        paragraph(
          `${menus.length - mostCodes} more words can be said in the mapping as text.`,
          "quiet",
        ),
      );
    }
    return [group(`Words: ${about}`, ...shown)];
  });
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
