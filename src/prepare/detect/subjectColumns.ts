import { looksLikeNames } from "../../privacy/index.js";
import { matchOf } from "../ids/linkReport.js";
import { ignorable } from "../ids/normaliseId.js";
import { firstCells } from "./cellForms.js";
import type { ColumnFacts } from "./columnFacts.js";
import type { FileAnswers } from "./detected.js";
import { childWords, idWords, mayBeDate, powerWords } from "./nameWords.js";
import type { Role } from "./roles.js";

interface SubjectChoice {
  readonly chosen: number;
  readonly rivals: readonly number[];
  readonly sure: boolean;
}

/** Different for most rows, or for most pairs of them, and with a digit: written as ids are. */
function isCode({ cells, rows }: ColumnFacts): boolean {
  const written = [...cells.keys()].slice(0, 200);
  const codes = written.filter((text) => /\d/.test(text) && !/[+,%]|\d\.\d|\s/.test(text));
  return cells.size > rows / 3 && codes.length > written.length / 2;
}

/** The column of each file that says which child a row belongs to. */
export function subjectColumns(
  facts: readonly (readonly ColumnFacts[])[],
  roleLists: readonly (readonly (Role | null)[])[],
  answers: readonly FileAnswers[],
): SubjectChoice[] {
  const candidates = facts.map((columns, file) =>
    columns.flatMap((one, at) => {
      const said = answers[file]?.columns?.[one.column]?.is;
      if (said === "subject") return [{ at, score: 100 }];
      if (said != null) return [];
      const role = roleLists[file][at];
      // dates that are not read, or powers, are nobody's ids
      if (powerWords.test(one.words) || (mayBeDate(one) && !idWords.test(one.words))) return [];
      if (role !== null && role !== "record-number" && role !== "row-number") return [];
      // under "Patient" may stand who it is, and that is no id
      if (looksLikeNames(firstCells(one, 5000))) return [];
      if (one.filled < 0.8 * one.rows || one.numbers.point + one.numbers.comma > one.filled / 2)
        return [];
      if (one.cells.size < Math.max(one.rows > 3 ? 2 : 1, one.rows / 40)) return [];
      // nor are a few words or codes, such as yes and no
      if (!childWords.test(one.words) && one.cells.size < one.rows / 8) return [];
      const score = (childWords.test(one.words) ? 2 : 0) + (idWords.test(one.words) ? 1 : 0);
      return role === "row-number" ? [{ at, score: score - 3 }] : [{ at, score }];
    }),
  );
  const idsOf = (file: number, at: number) => [...facts[file][at].cells.keys()];
  const chosen = new Map<number, { at: number; sure: boolean }>();
  const pairs = facts.flatMap((_, one) =>
    facts.slice(one + 1).map((_, k) => [one, one + 1 + k] as const),
  );
  const overlaps = pairs.flatMap(([one, other]) =>
    candidates[one].flatMap((first) =>
      candidates[other].map((second) => {
        const alone = candidates[one].length === 1 && candidates[other].length === 1;
        const ids = [idsOf(one, first.at), idsOf(other, second.at)];
        const least = Math.min(ids[0].length, ids[1].length);
        const overlap = alone ? 1 : matchOf(ids, ignorable).matched / least;
        return {
          one,
          other,
          first,
          second,
          overlap,
          value: overlap + 0.1 * (first.score + second.score),
        };
      }),
    ),
  );
  for (const pair of overlaps.toSorted((a, b) => b.value - a.value)) {
    if (pair.overlap < 0.1 && pair.first.score + pair.second.score < 4) continue;
    const fixed = [
      [pair.one, pair.first],
      [pair.other, pair.second],
    ] as const;
    if (fixed.some(([file, { at }]) => chosen.has(file) && chosen.get(file)?.at !== at)) continue;
    for (const [file, { at }] of fixed) {
      if (!chosen.has(file)) chosen.set(file, { at, sure: pair.overlap >= 0.1 });
    }
  }
  return facts.map((_, file) => {
    const sorted = candidates[file].toSorted((a, b) => b.score - a.score);
    const rivals = candidates[file].map(({ at }) => at);
    const pick = chosen.get(file);
    if (pick !== undefined) return { chosen: pick.at, rivals, sure: pick.sure };
    const [first, second] = sorted;
    if (first === undefined) return { chosen: -1, rivals, sure: false };
    // a number of a visit has few values
    const shared = facts[file][first.at];
    const isFew = !childWords.test(shared.words) && shared.cells.size < shared.rows / 4;
    // a number of something may stand beside a child's under a name that nothing here knows
    const doubtful =
      first.score < 2 &&
      candidates[file].some(({ at }) => at !== first.at && isCode(facts[file][at]));
    const ahead = !isFew && first.score > 0 && first.score > (second?.score ?? -1);
    return { chosen: first.at, rivals, sure: ahead && !doubtful };
  });
}
