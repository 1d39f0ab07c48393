// Names of columns as people write them, in eleven languages, each beside a study's other columns with cells of its
// kind (namesOfColumns.txt; common practice, no source). Written by who wrote the words, so that it says what is
// known and not what an unseen file would give. What only looks like something is never taken for it.
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { CodedTable } from "../../src/cohort/index.js";
import { detectFiles } from "../../src/prepare/detect/detectFiles.js";

const rows = 40;
const child = Array.from({ length: rows }, (_, row) => `K${1000 + 7 * row}`);
const dates = (month: number) =>
  child.map((_, row) => `2026-0${month}-${String(10 + (row % 17)).padStart(2, "0")}`);

/** Numbers that repeat in no order, the same in every run. */
const spread = (row: number, salt: number) =>
  (row * 7919 + salt * 104_729 + ((row * row) % 13)) % 97;
const dioptres = (row: number, salt: number, low: number, high: number) => {
  const value = low + (spread(row, salt) % (4 * (high - low) + 1)) / 4;
  return `${value > 0 ? "+" : ""}${value.toFixed(2)}`;
};
function powers(salt: number): Record<string, string[]> {
  const columns: Record<string, string[]> = {};
  for (const [at, eye] of ["R", "L"].entries()) {
    columns[`${eye} sph`] = child.map((_, row) => dioptres(row, salt + at, -2, 4));
    columns[`${eye} cyl`] = child.map((_, row) => dioptres(row, salt + 2 + at, -2, 0));
    columns[`${eye} axis`] = child.map((_, row) =>
      String(1 + ((spread(row, salt + at) * 7) % 180)),
    );
  }
  return columns;
}

function table(file: string, columns: Readonly<Record<string, readonly string[]>>): CodedTable {
  const header = Object.keys(columns);
  const coded = header.map((name) => {
    const labels = [...new Set(["", ...columns[name]!])];
    return { codes: Int32Array.from(columns[name]!, (cell) => labels.indexOf(cell)), labels };
  });
  return { file, header, n: rows, columns: coded } as unknown as CodedTable;
}

interface Block {
  readonly is: string;
  readonly side: string;
  readonly cells: readonly string[];
  readonly names: readonly string[];
}
const blocks: readonly Block[] = readFileSync("tests/prepare/namesOfColumns.txt", "utf8")
  .split("@ ")
  .slice(1)
  .map((text) => {
    const [first, ...rest] = text.trim().split("\n");
    const [is, side, ...cells] = first!.split(" ");
    const list = (line: string) => line.split("|").map((one) => one.trim());
    return { is: is!, side: side!, cells: list(cells.join(" ")), names: list(rest.join("|")) };
  });
const gone = new Set(
  "name address postal-code phone e-mail record-number url device-serial row-number free-text other-date".split(
    " ",
  ),
);

/** What a column is taken for, or "asked". */
function taken({ is, side, cells }: Block, name: string): string {
  const screening: Record<string, string[]> = is === "date" ? {} : { "Screening date": dates(3) };
  const readings: Record<string, string[]> = { "Child ID": child, ...screening, ...powers(1) };
  const drops: Record<string, string[]> =
    is === "cycloplegia" ? {} : { Cycloplegia: child.map((_, row) => (row % 2 ? "yes" : "no")) };
  const findings: Record<string, string[]> = {
    ...{ "Child ID": child, "Exam date": dates(6), ...drops },
    ...powers(11),
  };
  const target = side === "readings" ? readings : findings;
  target[name] = child.map((_, row) => cells[spread(row, 5) % cells.length]!);
  const files = detectFiles([table("screening.csv", readings), table("exam.csv", findings)]);
  const column = files[side === "readings" ? 0 : 1]!.columns.find((one) => one.column === name)!;
  return column.questions.some(({ key }) => key !== "order") ? "asked" : column.is;
}

describe("names of columns", () => {
  const known = blocks.filter(({ is }) => !is.startsWith("!"));
  it.each([...new Set(known.map(({ is }) => is))])("%s", (is) => {
    let [right, all] = [0, 0];
    const wrong: string[] = [];
    for (const block of known.filter((one) => one.is === is)) {
      for (const name of block.names) {
        const found = taken(block, name);
        all++;
        if (found === is || (gone.has(found) && gone.has(is))) right++;
        else if (found !== "asked") wrong.push(`${name}: ${found}`);
      }
    }
    expect(wrong).toEqual([]);
    expect(right / all).toBeGreaterThan(0.85);
  });

  it("what only looks like something is asked or goes", () => {
    const wrong = blocks
      .filter(({ is }) => is.startsWith("!"))
      .flatMap((block) =>
        block.names.flatMap((name) => {
          const found = taken(block, name);
          return found === "asked" || found === "other" || gone.has(found)
            ? []
            : [`${name}: ${found}`];
        }),
      );
    expect(wrong).toEqual([]);
  });
});
